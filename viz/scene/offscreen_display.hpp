// SPDX-License-Identifier: GPL-3.0-or-later
// A display to draw on: VTK renders through X even when nothing is shown.
#pragma once

#include <string>

namespace hangtrue::scene
{

/// A private X server without a screen (Xvfb) for the lifetime of this object; it is ended, and
/// DISPLAY restored, with this object or when the process ends in any other way. Where Xvfb is not
/// installed the display that the process already has is used, if it responds.
class Display
{
public:
  Display();
  ~Display();
  Display(const Display&) = delete;
  Display& operator=(const Display&) = delete;

  [[nodiscard]] bool ready() const { return ready_; }

  /// When not ready: why, and the name of the package to install.
  [[nodiscard]] const std::string& trouble() const { return trouble_; }

private:
  bool start_private();

  int server_ = -1; ///< process of the private server
  bool ready_ = false;
  bool had_before_ = false;
  std::string before_; ///< DISPLAY of the process
  std::string trouble_;
};

} // namespace hangtrue::scene
