// SPDX-License-Identifier: GPL-3.0-or-later
// The workspace that every call of CHOLMOD needs.
#pragma once

#include <cholmod.h>

namespace hangtrue::linear_algebra
{

/// Settings and scratch memory of the library; two threads need one each.
struct CholmodWorkspace {
  cholmod_common common{};

  CholmodWorkspace() { cholmod_start(&common); }
  CholmodWorkspace(const CholmodWorkspace&) = delete;
  CholmodWorkspace& operator=(const CholmodWorkspace&) = delete;
  ~CholmodWorkspace() { cholmod_finish(&common); }

  /// Settings for a supernodal factor in a given ordering.
  void use_given_order()
  {
    common.print = 0;
    common.supernodal = CHOLMOD_SUPERNODAL;
    common.nmethods = 1;
    common.method[0].ordering = CHOLMOD_NATURAL;
    common.postorder = 0;
  }
};

} // namespace hangtrue::linear_algebra
