// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/isotropic_elasticity.hpp"

namespace hangtrue::elasticity
{

Elasticity elasticity(double youngs_modulus, double poisson)
{
  return {youngs_modulus * poisson / ((1.0 + poisson) * (1.0 - 2.0 * poisson)),
          youngs_modulus / (2.0 * (1.0 + poisson))};
}

} // namespace hangtrue::elasticity
