#include "viz/pdf.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <csignal>
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace hangtrue
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

} // namespace

std::string make_pdfs(const std::vector<PdfJob>& jobs)
{
  if (jobs.empty())
    return "";
  std::vector<const char*> words{"python3", "-I", "-c", script};
  for (const auto& job : jobs) {
    words.push_back(job.html.c_str());
    words.push_back(job.pdf.c_str());
  }
  words.push_back(nullptr);
  const pid_t child = fork();
  if (child == 0) {
    sigset_t none; // signals that the parent blocks end this one
    sigemptyset(&none);
    sigprocmask(SIG_SETMASK, &none, nullptr);
    const int silent = open("/dev/null", O_RDWR);
    for (const int stream : {0, 1, 2})
      dup2(silent, stream);
    // The one that Debian's packages belong to; another may come first on the path.
    execv("/usr/bin/python3", const_cast<char* const*>(words.data()));
    execvp("python3", const_cast<char* const*>(words.data()));
    _exit(3);
  }
  int status = -1;
  if (child > 0)
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
  if (child < 0)
    return "a PDF could not be made: no process could be started";
  if (WIFEXITED(status) && WEXITSTATUS(status) == 0)
    return "";
  if (WIFEXITED(status) && WEXITSTATUS(status) == 3)
    return package_hint;
  return "WeasyPrint gave up on a page; the same pages are in the HTML and SVG files";
}

std::string figure_html(const std::string& svg, double width, double height)
{
  return fmt::format("<!DOCTYPE html>\n<html><head><meta charset=\"utf-8\"><style>@page {{ size: "
                     "{:.1f}mm {:.1f}mm; margin: 0 }} body {{ margin: 0 }} svg {{ display: block "
                     "}}</style></head><body>\n{}</body></html>\n",
                     width, height, svg);
}

} // namespace hangtrue
