// Ranges of the answers from what is known to a factor only.
#pragma once

#include "solver/sensitivity/adjoint_sensitivity.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// What one uncertain size or property does to one answer, at the end of its band.
struct RangePart {
  std::string key;
  std::string what;
  double by = 0.0; ///< m, with its sign for more of it
};

/// One quantity of interest and how far it may be off to either side.
struct QoiInterval {
  QoiId id;
  double found = 0.0;           ///< m, as the check found it
  double likely = 0.0;          ///< m, root of the sum of squares of the parts: all off by chance
  double at_most = 0.0;         ///< m, sum of the parts: all off the worst way at once
  std::vector<RangePart> parts; ///< the greatest first
};

/// One band, SI, as it was used.
struct UsedBand {
  std::string key;
  std::string what;
  double value = 0.0;
  double half = 0.0;
  bool factor = false; ///< both are factors
  bool given = false;
};

/// What `--spread` adds to a check.
struct Sureness {
  std::vector<UsedBand> bands;
  std::vector<Nudge> nudges;
  std::vector<QoiSensitivities> slopes;
  std::vector<QoiInterval> ranges;
};

} // namespace hangtrue
