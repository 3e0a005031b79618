// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/scene/scene.hpp"

#include "meshing/common/errors.hpp"

#include <vtkActor.h>
#include <vtkCamera.h>
#include <vtkCellArray.h>
#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkLight.h>
#include <vtkLookupTable.h>
#include <vtkMapper.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>
#include <vtkPolyDataMapper.h>
#include <vtkProperty.h>
#include <vtkRenderWindow.h>
#include <vtkRenderer.h>
#include <vtkUnsignedCharArray.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::scene
{

namespace
{

constexpr int finer = 2; // rendered pixels per output pixel, each direction

vtkNew<vtkPoints> points_of(const Layer& layer)
{
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const auto& p : layer.positions)
    points->InsertNextPoint(p.x, p.y, p.z);
  return points;
}

unsigned char byte(double v)
{
  return static_cast<unsigned char>(std::lround(255.0 * v));
}

// Bands of the scale as a table; values are looked up pixel by pixel, so that bands end where they
// should and not at the edges of facets.
void colour_by_value(const Layer& layer, vtkPolyData& data, vtkPolyDataMapper& mapper)
{
  const vtkNew<vtkDoubleArray> values;
  for (const double v : layer.values)
    values->InsertNextValue(v);
  data.GetPointData()->SetScalars(values);
  constexpr int entries = 1024;
  const vtkNew<vtkLookupTable> table;
  table->SetNumberOfTableValues(entries);
  table->SetTableRange(layer.scale.from, layer.scale.to);
  for (int i = 0; i < entries; ++i) {
    const double share = (i + 0.5) / entries;
    const page::Colour c =
        band_colour(layer.scale, layer.scale.from + share * (layer.scale.to - layer.scale.from));
    table->SetTableValue(i, c.red, c.green, c.blue);
  }
  mapper.SetLookupTable(table);
  mapper.SetScalarRange(layer.scale.from, layer.scale.to);
  mapper.UseLookupTableScalarRangeOn();
  mapper.InterpolateScalarsBeforeMappingOn();
}

void colour_by_piece(const Layer& layer, vtkPolyData& data)
{
  const vtkNew<vtkUnsignedCharArray> colours;
  colours->SetNumberOfComponents(3);
  for (const auto& c : layer.colours)
    colours->InsertNextTuple3(byte(c.red), byte(c.green), byte(c.blue));
  data.GetCellData()->SetScalars(colours);
}

void add_pieces(const Layer& layer, vtkRenderer& renderer)
{
  const vtkNew<vtkCellArray> cells;
  for (const auto& piece : layer.surface->pieces) {
    cells->InsertNextCell(static_cast<int>(piece.size()));
    for (const int p : piece)
      cells->InsertCellPoint(p);
  }
  const vtkNew<vtkPolyData> data;
  data->SetPoints(points_of(layer));
  data->SetPolys(cells);
  const vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputData(data);
  // Edges lie on the facets: facets are drawn slightly behind.
  mapper->SetResolveCoincidentTopologyToPolygonOffset();
  mapper->SetRelativeCoincidentTopologyPolygonOffsetParameters(1.0, 1.0);
  if (!layer.values.empty())
    colour_by_value(layer, *data, *mapper);
  else
    colour_by_piece(layer, *data);
  const vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  actor->GetProperty()->SetInterpolationToFlat();
  if (layer.lit) {
    actor->GetProperty()->SetAmbient(0.45);
    actor->GetProperty()->SetDiffuse(0.55);
  } else {
    actor->GetProperty()->LightingOff();
  }
  renderer.AddActor(actor);
}

void add_edges(const Layer& layer, double dots, vtkRenderer& renderer)
{
  const vtkNew<vtkCellArray> cells;
  for (const auto& e : layer.surface->edges) {
    cells->InsertNextCell(2);
    cells->InsertCellPoint(e[0]);
    cells->InsertCellPoint(e[1]);
  }
  const vtkNew<vtkPolyData> data;
  data->SetPoints(points_of(layer));
  data->SetLines(cells);
  const vtkNew<vtkPolyDataMapper> mapper;
  mapper->SetInputData(data);
  mapper->ScalarVisibilityOff();
  const vtkNew<vtkActor> actor;
  actor->SetMapper(mapper);
  actor->GetProperty()->LightingOff();
  actor->GetProperty()->SetColor(layer.line_colour.red, layer.line_colour.green,
                                 layer.line_colour.blue);
  actor->GetProperty()->SetLineWidth(static_cast<float>(std::max(1.0, layer.line * dots * finer)));
  renderer.AddActor(actor);
}

void look(const Window& window, vtkRenderer& renderer)
{
  const View& v = window.view;
  const Vec3 back = cross(v.right, v.up); // towards the eye
  constexpr double away = 100.0;          // m, farther than any door is deep
  const Vec3 eye = v.centre + away * back;
  vtkCamera* camera = renderer.GetActiveCamera();
  camera->ParallelProjectionOn();
  camera->SetFocalPoint(v.centre.x, v.centre.y, v.centre.z);
  camera->SetPosition(eye.x, eye.y, eye.z);
  camera->SetViewUp(v.up.x, v.up.y, v.up.z);
  camera->SetParallelScale(0.5 * v.span * window.height / window.width);
  renderer.ResetCameraClippingRange();
}

// The pixels of the window, each the mean of the finer ones; rows come from below.
page::Raster mean_dots(const vtkUnsignedCharArray& dots, int width, int height)
{
  page::Raster raster{width, height, {}};
  raster.rgb.resize(static_cast<std::size_t>(3) * width * height);
  const int wide = width * finer;
  const int high = height * finer;
  auto* from = const_cast<vtkUnsignedCharArray&>(dots).GetPointer(0);
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x)
      for (int c = 0; c < 3; ++c) {
        int sum = 0;
        for (int j = 0; j < finer; ++j)
          for (int i = 0; i < finer; ++i)
            sum += from[3 * (static_cast<std::size_t>(high - 1 - y * finer - j) * wide + x * finer +
                             i) +
                        c];
        raster.rgb[3 * (static_cast<std::size_t>(y) * width + x) + c] =
            static_cast<unsigned char>((sum + finer * finer / 2) / (finer * finer));
      }
  return raster;
}

} // namespace

page::PagePoint on_page(const Window& window, const Vec3& place)
{
  const View& v = window.view;
  const Vec3 from = place - v.centre;
  const double mm = window.width / v.span;
  return {window.position.x + 0.5 * window.width + mm * dot(from, v.right),
          window.position.y + 0.5 * window.height - mm * dot(from, v.up)};
}

Window fitted(page::PagePoint position, double width, double height, const Vec3& right,
              const Vec3& up, const std::vector<Vec3>& places, double border)
{
  double l = 1e300;
  double r = -1e300;
  double b = 1e300;
  double t = -1e300;
  Vec3 middle;
  for (const auto& p : places) {
    l = std::min(l, dot(p, right));
    r = std::max(r, dot(p, right));
    b = std::min(b, dot(p, up));
    t = std::max(t, dot(p, up));
    middle += (1.0 / static_cast<double>(places.size())) * p;
  }
  Window window{position, width, height, {right, up, {}, 1.0}};
  const Vec3 into = cross(right, up);
  window.view.centre = 0.5 * (l + r) * right + 0.5 * (b + t) * up + dot(middle, into) * into;
  window.view.span = std::max({r - l, (t - b) * width / height, 1e-9}) / (1.0 - 2.0 * border);
  return window;
}

void draw_layers(page::Page& page, const Window& window, const std::vector<Layer>& layers,
                 double dots)
{
  const vtkNew<vtkRenderer> renderer;
  renderer->SetBackground(1.0, 1.0, 1.0);
  for (const auto& layer : layers) {
    if (layer.pieces)
      add_pieces(layer, *renderer);
    if (layer.line > 0.0)
      add_edges(layer, dots, *renderer);
  }
  const vtkNew<vtkRenderWindow> frame;
  frame->SetOffScreenRendering(1);
  frame->SetMultiSamples(0);
  const int width = static_cast<int>(std::lround(window.width * dots));
  const int height = static_cast<int>(std::lround(window.height * dots));
  frame->SetSize(width * finer, height * finer);
  frame->AddRenderer(renderer);
  look(window, *renderer);
  frame->Render();
  const vtkNew<vtkUnsignedCharArray> got;
  frame->GetPixelData(0, 0, width * finer - 1, height * finer - 1, 0, got);
  if (got->GetNumberOfValues() != static_cast<vtkIdType>(3) * width * finer * height * finer)
    throw ComputeError("pictures: the display gave no dots back; charts and numbers are not "
                       "affected");
  page.pictures.push_back(
      {window.position, window.width, window.height, mean_dots(*got, width, height)});
}

} // namespace hangtrue::scene
