// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/raster_writer.hpp"

// VTK 9.1 draws letters beyond ASCII only from its own string class, which it calls deprecated.
#define VTK_DEPRECATION_LEVEL 0

#include <vtkFreeTypeTools.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGWriter.h>
#include <vtkTextProperty.h>
#include <vtkUnicodeString.h>
#include <vtkUnsignedCharArray.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <numbers>

namespace hangtrue::page
{

namespace
{

constexpr double capital = 0.716; // height of capitals over size

// Pixels with a fraction of colour blended over what is there.
class Canvas
{
public:
  Canvas(int width, int height)
  {
    raster.width = width;
    raster.height = height;
    raster.rgb.assign(static_cast<std::size_t>(3) * width * height, 255);
  }
  void lay(int x, int y, const Colour& c, double share)
  {
    if (x < 0 || y < 0 || x >= raster.width || y >= raster.height || share <= 0.0)
      return;
    unsigned char* dot = &raster.rgb[3 * (static_cast<std::size_t>(y) * raster.width + x)];
    const std::array<double, 3> to{c.red, c.green, c.blue};
    const double s = std::min(1.0, share);
    for (int i = 0; i < 3; ++i)
      dot[i] = static_cast<unsigned char>(std::lround((1.0 - s) * dot[i] + s * 255.0 * to[i]));
  }
  Raster raster;
};

// Area within a closed line (even-odd), four scan lines to a row of pixels with exact ends.
void fill(Canvas& canvas, const std::vector<PagePoint>& p, const Colour& colour, double cover)
{
  constexpr int scans = 4;
  double top = 1e9;
  double bottom = -1e9;
  for (const auto& s : p) {
    top = std::min(top, s.y);
    bottom = std::max(bottom, s.y);
  }
  const int first = std::max(0, static_cast<int>(std::floor(top)));
  const int last = std::min(canvas.raster.height - 1, static_cast<int>(std::floor(bottom)));
  std::vector<double> row(static_cast<std::size_t>(canvas.raster.width));
  std::vector<double> ends;
  for (int y = first; y <= last; ++y) {
    std::fill(row.begin(), row.end(), 0.0);
    int from = canvas.raster.width;
    int to = -1;
    for (int k = 0; k < scans; ++k) {
      const double position = y + (k + 0.5) / scans;
      ends.clear();
      for (std::size_t i = 0; i < p.size(); ++i) {
        const PagePoint& a = p[i];
        const PagePoint& b = p[(i + 1) % p.size()];
        if ((a.y <= position) != (b.y <= position))
          ends.push_back(a.x + (position - a.y) / (b.y - a.y) * (b.x - a.x));
      }
      std::sort(ends.begin(), ends.end());
      for (std::size_t i = 0; i + 1 < ends.size(); i += 2) {
        const double l = std::clamp(ends[i], 0.0, static_cast<double>(canvas.raster.width));
        const double r = std::clamp(ends[i + 1], 0.0, static_cast<double>(canvas.raster.width));
        const int end = std::min(canvas.raster.width - 1, static_cast<int>(std::floor(r)));
        for (int x = static_cast<int>(std::floor(l)); x <= end; ++x)
          row[x] += std::max(0.0, std::min(r, x + 1.0) - std::max(l, 1.0 * x)) / scans;
        from = std::min(from, static_cast<int>(std::floor(l)));
        to = std::max(to, end);
      }
    }
    for (int x = from; x <= to; ++x)
      canvas.lay(x, y, colour, cover * row[x]);
  }
}

// One straight segment of a line as an area.
void stroke_part(Canvas& canvas, PagePoint a, PagePoint b, const Colour& colour, double width)
{
  const double l = std::hypot(b.x - a.x, b.y - a.y);
  if (l < 1e-9)
    return;
  const double nx = -0.5 * width * (b.y - a.y) / l;
  const double ny = 0.5 * width * (b.x - a.x) / l;
  fill(canvas,
       {{a.x + nx, a.y + ny}, {b.x + nx, b.y + ny}, {b.x - nx, b.y - ny}, {a.x - nx, a.y - ny}},
       colour, 1.0);
}

std::vector<double> dashes(Dash dash)
{
  if (dash == Dash::dashed)
    return {2.0, 1.2};
  if (dash == Dash::chain)
    return {5.0, 1.0, 0.6, 1.0};
  return {};
}

// A polyline, with dashes that continue round the corners; positions in pixels.
void stroke(Canvas& canvas, const std::vector<PagePoint>& spots, const Stroke& s, double dots)
{
  const double width = std::max(0.7, s.width * dots);
  const auto pattern = dashes(s.dash);
  std::size_t piece = 0;
  double left = pattern.empty() ? 1e18 : pattern[0] * dots;
  for (std::size_t i = 0; i + 1 < spots.size(); ++i) {
    const PagePoint a = spots[i];
    const PagePoint b = spots[i + 1];
    const double l = std::hypot(b.x - a.x, b.y - a.y);
    double position = 0.0;
    while (position < l) {
      const double step = std::min(left, l - position);
      const auto place = [&](double d) {
        return PagePoint{a.x + d / l * (b.x - a.x), a.y + d / l * (b.y - a.y)};
      };
      if (piece % 2 == 0)
        stroke_part(canvas, place(position), place(position + step), s.colour, width);
      position += step;
      left -= step;
      if (left <= 1e-9 && !pattern.empty())
        left = pattern[++piece % pattern.size()] * dots;
    }
    if (pattern.empty() && width > 1.5 && i > 0) { // round the corner
      std::vector<PagePoint> round;
      for (int k = 0; k < 12; ++k) {
        const double angle = k * std::numbers::pi / 6.0;
        round.push_back({a.x + 0.5 * width * std::cos(angle), a.y + 0.5 * width * std::sin(angle)});
      }
      fill(canvas, round, s.colour, 1.0);
    }
  }
}

void draw_shape(Canvas& canvas, const PathShape& shape, double dots)
{
  std::vector<PagePoint> spots;
  for (const auto& s : shape.spots)
    spots.push_back({s.x * dots, s.y * dots});
  if (shape.fill)
    fill(canvas, spots, *shape.fill, shape.cover);
  if (!shape.stroke)
    return;
  if (shape.closed && !spots.empty())
    spots.push_back(spots.front());
  stroke(canvas, spots, *shape.stroke, dots);
}

// Mean of the picture's dots that fall into each dot of the page (or the nearest one).
void draw_picture(Canvas& canvas, const Picture& p, double dots)
{
  const int x0 = static_cast<int>(std::lround(p.position.x * dots));
  const int y0 = static_cast<int>(std::lround(p.position.y * dots));
  const int w = static_cast<int>(std::lround(p.width * dots));
  const int h = static_cast<int>(std::lround(p.height * dots));
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      const int l = x * p.raster.width / w;
      const int r = std::max(l + 1, (x + 1) * p.raster.width / w);
      const int t = y * p.raster.height / h;
      const int b = std::max(t + 1, (y + 1) * p.raster.height / h);
      std::array<double, 3> sum{};
      for (int j = t; j < b; ++j)
        for (int i = l; i < r; ++i)
          for (int c = 0; c < 3; ++c)
            sum[c] += p.raster.rgb[3 * (static_cast<std::size_t>(j) * p.raster.width + i) + c];
      const double n = 255.0 * (r - l) * (b - t);
      canvas.lay(x0 + x, y0 + y, {sum[0] / n, sum[1] / n, sum[2] / n}, 1.0);
    }
}

void set_face(vtkTextProperty& face, bool bold)
{
  namespace fs = std::filesystem;
  const std::string file = std::string("/usr/share/fonts/truetype/liberation/LiberationSans-") +
                           (bold ? "Bold" : "Regular") + ".ttf";
  std::error_code none;
  if (fs::exists(file, none)) {
    face.SetFontFamily(VTK_FONT_FILE);
    face.SetFontFile(file.c_str());
  } else {
    face.SetFontFamilyToArial();
    face.SetBold(bold ? 1 : 0);
  }
}

void draw_label(Canvas& canvas, const TextLabel& w, double dots)
{
  if (w.text.empty())
    return;
  const vtkNew<vtkTextProperty> face;
  set_face(*face, w.bold);
  // VTK takes integer points at an integer resolution; the resolution sets the height.
  constexpr int points = 20;
  face->SetFontSize(points);
  const int dpi = static_cast<int>(std::lround(72.0 * w.height / capital * dots / points));
  face->SetColor(0.0, 0.0, 0.0);
  face->SetOrientation(w.turn);
  face->SetVerticalJustificationToBottom();
  face->SetJustification(w.side == TextAnchor::left     ? VTK_TEXT_LEFT
                         : w.side == TextAnchor::middle ? VTK_TEXT_CENTERED
                                                        : VTK_TEXT_RIGHT);
  face->UseTightBoundingBoxOff();
  vtkFreeTypeTools* tools = vtkFreeTypeTools::GetInstance();
  tools->SetScaleToPowerTwo(false);
  const vtkNew<vtkImageData> glyphs;
  std::array<int, 2> size{};
  if (!tools->RenderString(face, vtkUnicodeString::from_utf8(w.text), dpi, glyphs, size.data()))
    return;
  std::array<int, 6> extent{};
  glyphs->GetExtent(extent.data());
  const double descent = 0.212 * w.height / capital * dots; // of Helvetica and its like
  const double turn = w.turn * std::numbers::pi / 180.0;
  const double x0 = w.position.x * dots + descent * std::sin(turn);
  const double y0 = w.position.y * dots + descent * std::cos(turn);
  const int channels = glyphs->GetNumberOfScalarComponents();
  auto each = [&](const Colour& colour, int dx, int dy) {
    for (int j = extent[2]; j <= extent[3]; ++j)
      for (int i = extent[0]; i <= extent[1]; ++i) {
        const auto* dot = static_cast<unsigned char*>(glyphs->GetScalarPointer(i, j, 0));
        const double share = dot[channels - 1] / 255.0;
        canvas.lay(static_cast<int>(std::lround(x0)) + i + dx,
                   static_cast<int>(std::lround(y0)) - j + dy, colour, share);
      }
  };
  if (w.rim) {
    const int reach = std::max(1, static_cast<int>(std::lround(0.4 * dots)));
    for (int dy = -reach; dy <= reach; ++dy)
      for (int dx = -reach; dx <= reach; ++dx)
        if (dx * dx + dy * dy <= reach * reach)
          each({1.0, 1.0, 1.0}, dx, dy);
  }
  each(w.colour, 0, 0);
}

} // namespace

Raster rasterized(const Page& page, double dots)
{
  Canvas canvas(static_cast<int>(std::lround(page.width * dots)),
                static_cast<int>(std::lround(page.height * dots)));
  for (const auto& p : page.pictures)
    draw_picture(canvas, p, dots);
  for (const auto& s : page.shapes)
    draw_shape(canvas, s, dots);
  for (const auto& w : page.labels)
    draw_label(canvas, w, dots);
  return std::move(canvas.raster);
}

std::string png_bytes(const Raster& raster)
{
  const vtkNew<vtkImageData> image;
  image->SetDimensions(raster.width, raster.height, 1);
  image->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
  const std::size_t row = static_cast<std::size_t>(3) * raster.width;
  for (int y = 0; y < raster.height; ++y) // VTK counts rows from below
    std::copy_n(&raster.rgb[row * (raster.height - 1 - y)], row,
                static_cast<unsigned char*>(image->GetScalarPointer(0, y, 0)));
  const vtkNew<vtkPNGWriter> writer;
  writer->SetInputData(image);
  writer->WriteToMemoryOn();
  writer->Write();
  const vtkUnsignedCharArray* result = writer->GetResult();
  const auto* bytes =
      reinterpret_cast<const char*>(const_cast<vtkUnsignedCharArray*>(result)->GetPointer(0));
  return {bytes, static_cast<std::size_t>(result->GetNumberOfValues())};
}

std::string base64(const std::string& bytes)
{
  constexpr const char* digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const std::size_t left = std::min<std::size_t>(3, bytes.size() - i);
    unsigned block = 0;
    for (std::size_t k = 0; k < 3; ++k)
      block = block << 8U | (k < left ? static_cast<unsigned char>(bytes[i + k]) : 0U);
    for (std::size_t k = 0; k < 4; ++k)
      text += k <= left ? digits[block >> (18U - 6U * k) & 63U] : '=';
  }
  return text;
}

} // namespace hangtrue::page
