// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/mesh/mesh.hpp"

namespace hangtrue::mesh
{

std::string part_name(Part part)
{
  switch (part) {
  case Part::outer_skin:
    return "outer skin";
  case Part::inner_skin:
    return "inner skin";
  case Part::rim:
    return "rim";
  case Part::stiffener:
    return "stiffener";
  case Part::insulation:
    return "insulation";
  case Part::land:
    return "land of a leaf";
  case Part::web:
    return "web of a leaf";
  case Part::neck:
    return "neck of a leaf";
  case Part::lug:
    return "lug";
  case Part::ring:
    return "knuckle";
  case Part::pin:
    return "pin";
  case Part::jamb:
    return "jamb";
  case Part::hollow:
    return "hollow";
  case Part::strip:
    return "break strip";
  }
  return "unknown part";
}

} // namespace hangtrue::mesh
