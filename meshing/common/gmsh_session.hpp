// SPDX-License-Identifier: GPL-3.0-or-later
// Start and end of the Gmsh library around its use.
#pragma once

#include <mutex>

namespace hangtrue
{

/// Starts the Gmsh library, silent and without reading any settings of the user, and ends it. The
/// library has one model for the whole process: another thread waits until this session ends.
class GmshSession
{
public:
  GmshSession();
  ~GmshSession();
  GmshSession(const GmshSession&) = delete;
  GmshSession& operator=(const GmshSession&) = delete;
  GmshSession(GmshSession&&) = delete;
  GmshSession& operator=(GmshSession&&) = delete;

private:
  std::unique_lock<std::recursive_mutex> alone_;
};

} // namespace hangtrue
