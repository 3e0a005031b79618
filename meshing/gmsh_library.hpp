// Start and end of the Gmsh library around its use.
#pragma once

namespace hangtrue
{

/// Starts the Gmsh library, silent and without reading any settings of the user, and ends it.
class GmshLibrary
{
public:
  GmshLibrary();
  ~GmshLibrary();
  GmshLibrary(const GmshLibrary&) = delete;
  GmshLibrary& operator=(const GmshLibrary&) = delete;
  GmshLibrary(GmshLibrary&&) = delete;
  GmshLibrary& operator=(GmshLibrary&&) = delete;
};

} // namespace hangtrue
