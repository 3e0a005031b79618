// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/pdf_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <poll.h>
#include <sstream>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace hangtrue::page
{

namespace
{

// WeasyPrint is a Python library: one start for all files. 3: not installed. Nothing but the file
// itself may be fetched.
constexpr const char* script = R"(
import sys
try:
    import weasyprint
except ImportError:
    sys.exit(3)
import logging
logging.getLogger('weasyprint').setLevel(logging.CRITICAL)
own = weasyprint.default_url_fetcher
def fetch(url, *rest, **more):
    if not url.startswith('data:'):
        raise ValueError('not fetched')
    return own(url, *rest, **more)
names = sys.argv[1:]
for page, pdf in zip(names[::2], names[1::2]):
    with open(page, encoding='utf-8') as text:
        weasyprint.HTML(string=text.read(), url_fetcher=fetch).write_pdf(pdf)
)";

constexpr const char* package_hint =
    "a PDF needs WeasyPrint; install the Debian package weasyprint (the same pages are in the HTML "
    "and SVG files)";

constexpr int not_installed = 3; // as the script has it

// The interpreter that a program written for one names in its first line; empty when there is none.
std::string interpreter_of(const std::string& program)
{
  std::ifstream file(program);
  std::string line;
  if (!std::getline(file, line) || line.rfind("#!/", 0) != 0)
    return "";
  const std::string path = line.substr(2, line.find_first_of(" \t", 2) - 2);
  return path.rfind("/python", std::string::npos) == path.rfind('/') ? path : "";
}

// Folders of the program search path; what is not absolute would be searched for from here.
std::vector<std::string> search_path()
{
  const char* path = std::getenv("PATH");
  std::vector<std::string> folders;
  std::istringstream rest(path == nullptr ? "" : path);
  for (std::string folder; std::getline(rest, folder, ':');)
    if (folder.rfind('/', 0) == 0)
      folders.push_back(folder);
  return folders;
}

// Pythons that may have WeasyPrint, by their whole paths: that of the Debian package, which the
// program `weasyprint` names, then of another installation on the path, then any other.
std::vector<std::string> interpreters()
{
  const auto folders = search_path();
  std::vector<std::string> wanted{interpreter_of("/usr/bin/weasyprint")};
  for (const auto& folder : folders)
    wanted.push_back(interpreter_of(folder + "/weasyprint"));
  wanted.emplace_back("/usr/bin/python3");
  for (const auto& folder : folders)
    wanted.push_back(folder + "/python3");
  std::vector<std::string> found;
  for (const auto& path : wanted)
    if (!path.empty() && access(path.c_str(), X_OK) == 0 &&
        std::find(found.begin(), found.end(), path) == found.end())
      found.push_back(path);
  return found;
}

// What a Python or a library of it would take from the user's environment is left out; home,
// language and folders of fonts and temporary files are passed on.
std::vector<std::string> plain_environment()
{
  std::vector<std::string> result{"PATH=/usr/local/bin:/usr/bin:/bin"};
  for (const char* name :
       {"HOME", "LANG", "LC_ALL", "LC_CTYPE", "TMPDIR", "FONTCONFIG_FILE", "FONTCONFIG_PATH",
        "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_DATA_DIRS"})
    if (const char* value = std::getenv(name); value != nullptr)
      result.push_back(std::string(name) + "=" + value);
  return result;
}

std::vector<char*> pointers(std::vector<std::string>& texts)
{
  std::vector<char*> result;
  result.reserve(texts.size() + 1);
  for (auto& text : texts)
    result.push_back(text.data());
  result.push_back(nullptr);
  return result;
}

// Waits for a child and gives its status; when `meanwhile` throws, the child is ended first.
int status_of(pid_t child, const std::function<void()>& meanwhile)
{
  constexpr int often = 50; // ms
  int status = -1;
  try {
    for (pid_t ended = 0; (ended = waitpid(child, &status, WNOHANG)) != child;) {
      if (ended < 0 && errno != EINTR)
        return -1;
      if (meanwhile)
        meanwhile();
      poll(nullptr, 0, often);
    }
  } catch (...) {
    kill(child, SIGKILL);
    waitpid(child, &status, 0);
    throw;
  }
  return status;
}

// Status of the script under one Python, -1 when it could not be started. The Python is named by
// its whole path: by a bare name it would look for itself on the search path and take another's
// library.
int run_script(const std::string& python, const std::vector<PdfJob>& jobs,
               const std::function<void()>& meanwhile)
{
  std::vector<std::string> words{python, "-I", "-c", script};
  for (const auto& job : jobs) {
    words.push_back(job.html);
    words.push_back(job.pdf);
  }
  std::vector<std::string> environment = plain_environment();
  const auto argument = pointers(words);
  const auto setting = pointers(environment);
  const pid_t child = fork(); // nothing of what it does before exec may allocate
  if (child == 0) {
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    sigset_t none; // signals that the parent blocks end this one
    sigemptyset(&none);
    sigprocmask(SIG_SETMASK, &none, nullptr);
    const int silent = open("/dev/null", O_RDWR);
    for (const int stream : {0, 1, 2})
      dup2(silent, stream);
    execve(python.c_str(), argument.data(), setting.data());
    _exit(not_installed);
  }
  return child < 0 ? -1 : status_of(child, meanwhile);
}

} // namespace

std::string make_pdfs(const std::vector<PdfJob>& jobs, const std::function<void()>& meanwhile)
{
  if (jobs.empty())
    return "";
  for (const auto& python : interpreters()) {
    const int status = run_script(python, jobs, meanwhile);
    if (status < 0)
      return "a PDF could not be made: no process could be started";
    if (WIFEXITED(status) && WEXITSTATUS(status) == 0)
      return "";
    if (!WIFEXITED(status) || WEXITSTATUS(status) != not_installed)
      return "WeasyPrint gave up on a page; the same pages are in the HTML and SVG files";
  }
  return package_hint;
}

std::string figure_html(const std::string& svg, double width, double height)
{
  return fmt::format("<!DOCTYPE html>\n<html><head><meta charset=\"utf-8\"><style>@page {{ size: "
                     "{:.1f}mm {:.1f}mm; margin: 0 }} body {{ margin: 0 }} svg {{ display: block "
                     "}}</style></head><body>\n{}</body></html>\n",
                     width, height, svg);
}

} // namespace hangtrue::page
