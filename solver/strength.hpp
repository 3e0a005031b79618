// Strength of pin, knuckle, leaf and weld by closed formulas on section forces.
#pragma once

#include "meshing/door.hpp"
#include "meshing/vec3.hpp"
#include "solver/deflection.hpp"

namespace hangtrue
{

/// Bending stress, Pa, in a solid round pin under a moment, N m: 32 M / (pi d^3).
double pin_bending_stress(double moment, double diameter);

/// Mean shear stress, Pa, in a solid round pin: 4 V / (pi d^2).
double pin_shear_stress(double shear, double diameter);

/// Use of a pin in bending and shear together, EN 1993-1-8:2005 Table 3.10:
/// (M / M_Rd)^2 + (V / V_Rd)^2 with M_Rd = 1.5 W f_y / gamma_M0 and V_Rd = 0.6 A f_u / gamma_M2;
/// gamma_M0 = 1.0, gamma_M2 = 1.25 (recommended values). Moment N m, shear N, strengths Pa.
double pin_combined_use(double moment, double shear, double diameter, double yield,
                        double ultimate);

/// Contact stress between pin and bore, Pa, EN 1993-1-8:2005 eq. 3.15:
/// 0.591 sqrt(E F (d0 - d) / (d^2 t)), the Hertz line pressure; to be held against 2.5 f_y for a
/// pin that is to stay replaceable (gamma_M6,ser = 1.0).
double pin_contact_stress(double youngs_modulus, double force, double pin, double bore,
                          double thickness);

/// Properties of a weld taken as lines of unit throat, about its centroid (Shigley, treatment of
/// welds as lines): length m, second moments m^3 about x and z in the plane of the face, and polar.
struct WeldLines {
  double length = 0.0;
  double about_x = 0.0; ///< of lines spread along z
  double about_z = 0.0; ///< of lines spread along x
  double half_x = 0.0;  ///< m, farthest line along x
  double half_z = 0.0;  ///< m, farthest line along z
};

/// A box of four fillets, `width` along x and `length` along z, m.
WeldLines box_weld(double width, double length);

/// Two fillets along x, `apart` along z, m: a plate on edge welded on both sides.
WeldLines pair_weld(double width, double apart);

/// Greatest stress on the throat, Pa, of fillets with a leg, m, under force and moment at their
/// centroid: the vector sum of the line method over the farthest corner, throat = leg / sqrt 2.
double weld_stress(const WeldLines& lines, double leg, const Vec3& force, const Vec3& moment);

/// Bending stress, Pa, of a plate `wide` along the bending axis and `deep` across it, m:
/// 6 M / (wide deep^2).
double plate_bending_stress(double moment, double wide, double deep);

/// Length of a leaf's web that bears, m: its own knuckles, spread at 45 degrees down the web, at
/// most the leaf (common practice, no source).
double bearing_web(const Hinge& hinge, Owner owner);

/// Greatest stress, Pa, at the root of a web or the foot of a lug: bending about the hinge axis and
/// across it, and the direct pull, added up.
double leaf_bending_stress(const Hinge& hinge, const LeafForces& leaf);

/// The same where one knuckle stands on the web of its leaf (barrels): the neck is only as long as
/// the knuckle. The force of a frame knuckle is turned back to the shut door's directions.
double neck_bending_stress(const Door& door, const KnuckleForce& knuckle);

} // namespace hangtrue
