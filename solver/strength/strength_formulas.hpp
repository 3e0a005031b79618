// SPDX-License-Identifier: GPL-3.0-or-later
// Strength of pin, knuckle, leaf and weld by closed formulas on section forces.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "solver/strength/hinge_forces.hpp"

namespace hangtrue::strength
{

/// Bending stress, Pa, in a solid round pin under a moment, N m: 32 M / (pi d^3).
double pin_bending_stress(double moment, double diameter);

/// Mean shear stress, Pa, in a solid round pin: 4 V / (pi d^2).
double pin_shear_stress(double shear, double diameter);

/// Stress, Pa, of a solid round pin in bending and shear together: von Mises of the stress of the
/// outer fibre, 32 M / (pi d^3), and the mean shear, 4 V / (pi d^2) (the elastic criterion of EN
/// 1993-1-1:2005, 6.2.1(5)). Moment N m and shear N may be of different sections, which is safe.
double pin_combined_stress(double moment, double shear, double diameter);

/// Allowable mean shear stress, Pa, in a pin: 0.60 F_y / 1.67 (AISC 360-16 G1, G2; 1.50 holds for
/// webs of rolled I-shapes only) or 0.60 F_u / 2.00 (J4.2(b)), the lesser; from memory. Strengths
/// Pa.
double pin_shear_limit(double yield, double ultimate);

/// Allowable stress, Pa, on the leg of a fillet, where weld and base metal meet: 0.60 F_y / 1.50 or
/// 0.60 F_u / 2.00, the lesser (AISC 360-16 J2.4 with J4.2; from memory). Strengths of the base,
/// Pa.
double base_metal_limit(double yield, double ultimate);

/// Contact stress between pin and bore, Pa, EN 1993-1-8:2005 eq. 3.15: 0.591 sqrt(E F (d0 - d) /
/// (d^2 t)), the Hertz line pressure; to be compared with 2.5 f_y for a pin that is to stay
/// replaceable (gamma_M6,ser = 1.0).
double pin_contact_stress(double youngs_modulus, double force, double pin, double bore,
                          double thickness);

/// Properties of a weld taken as lines of unit throat, about its centroid (Shigley, treatment of
/// welds as lines): length m, second moments m^3 about x and z in the plane of the face, and polar.
struct WeldLines {
  double length = 0.0;
  double about_x = 0.0; ///< of lines distributed along z
  double about_z = 0.0; ///< of lines distributed along x
  double half_x = 0.0;  ///< m, farthest line along x
  double half_z = 0.0;  ///< m, farthest line along z
};

/// A box of four fillets, `width` along x and `length` along z, m.
WeldLines box_weld(double width, double length);

/// Two fillets along x, `apart` along z, m: a plate on edge welded on both sides.
WeldLines pair_weld(double width, double apart);

/// Throat of a fillet with equal legs, m.
double weld_throat(double leg);

/// Greatest force per length of weld, N/m, under force, N, and moment, N m, at the centroid of the
/// lines: the vector sum of the line method over the farthest corner.
double weld_line_force(const WeldLines& lines, const Vec3& force, const Vec3& moment);

/// Greatest stress on the throat, Pa, of fillets with a leg, m, under force and moment at their
/// centroid: the vector sum of the line method over the farthest corner, throat = leg / sqrt 2.
double weld_stress(const WeldLines& lines, double leg, const Vec3& force, const Vec3& moment);

/// Bending stress, Pa, of a plate `wide` along the bending axis and `deep` across it, m:
/// 6 M / (wide deep^2).
double plate_bending_stress(double moment, double wide, double deep);

/// Length of a leaf's web that bears, m: its own knuckles, distributed at 45 degrees down the web,
/// at most the leaf (common practice, no source).
double bearing_web(const door::Hinge& hinge, door::KnuckleOwner owner);

/// A rectangular section of a plate, normal to y, and the forces and moments through it.
struct PlateSection {
  double wide = 0.0; ///< m, along z
  double deep = 0.0; ///< m, along x
  Vec3 force;        ///< N
  Vec3 moment;       ///< N m, about its middle: z bends across the hinge axis, x along it (a
                     ///< thrust does), y twists
};

/// Root of the web of a leaf (as wide as `bearing_web`), or foot of a lug.
PlateSection leaf_section(const door::Hinge& hinge, const LeafForces& leaf);

/// Stress where one knuckle joins the web of its leaf (barrels): the neck is only as long as the
/// knuckle. The force of a frame knuckle is turned back to the closed door's directions by the
/// swing of `door`, which must be that of the state of the force.
PlateSection neck_section(const door::Door& door, const KnuckleForce& knuckle);

/// Greatest normal stress, Pa: bending about both axes and direct tension, added up.
double bending_stress(const PlateSection& section);

/// Greatest shear stress, Pa, in a rectangle `wide` x `deep`, m, twisted by a moment, N m: in the
/// middle of the long side (Roark's Formulas for Stress and Strain, torsion of a solid rectangle,
/// from memory; within 0.3 % of the series of Saint-Venant).
double twist_shear_stress(double moment, double wide, double deep);

/// Greatest shear stress, Pa: 3/2 of the mean (parabola over a rectangle) and twist, added up.
double shear_stress(const PlateSection& section);

/// Von Mises stress, Pa, of the greatest normal and the greatest shear stress of the section (EN
/// 1993-1-1:2005, 6.2.1(5)); they act at different points of it, which is on the safe side.
double combined_stress(const PlateSection& section);

/// `bending_stress` of `leaf_section` and of `neck_section`.
double leaf_bending_stress(const door::Hinge& hinge, const LeafForces& leaf);
/// `bending_stress` of `neck_section`, Pa.
double neck_bending_stress(const door::Door& door, const KnuckleForce& knuckle);

} // namespace hangtrue::strength
