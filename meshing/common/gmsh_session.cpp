// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/common/gmsh_session.hpp"

#include "meshing/common/c_rand_lock.hpp"

#include <gmsh.h>

namespace hangtrue
{

GmshSession::GmshSession() : alone_(lock_c_rand())
{
  gmsh::initialize(0, nullptr, false);
  gmsh::option::setNumber("General.Terminal", 0);
  gmsh::option::setNumber("General.NumThreads", 1);
}

GmshSession::~GmshSession()
{
  try {
    gmsh::finalize();
  } catch (...) { // nothing can be done about a library that does not end
    return;
  }
}

} // namespace hangtrue
