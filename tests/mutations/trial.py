#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Breaks the kernels on purpose, one thing at a time, and says which verification test notices.

Run from the root of a clean checkout, with a folder for the broken copy, and the numbers of the
mutants if not all are meant; their rows are put in the page as soon as each is tried, the others stay:

    python3 tests/mutations/trial.py build/mutants docs/verification/mutations.md 3 23

    python3 tests/mutations/trial.py --texts     only whether every mutant still finds what it breaks

Nothing in the checkout itself is changed: the last commit is copied, built and broken there. It ends
with status 1 when a mutant escapes, or cannot be applied: its text is not there any more, or the broken
copy does not build.
"""
import pathlib
import re
import subprocess
import sys
import time

# What is broken, where, what stands there, what is put there, which program, or
# which of its cases alone, to ask first.
MUTANTS = [
    ("sign of a shear term of the stiffness", "solver/elasticity/gradient_product.hpp",
     "e.lambda * g + e.mu * transpose(g)", "e.lambda * g - e.mu * transpose(g)", "elastic_kernel"),
    ("Lame's lambda with 1 - nu for 1 - 2 nu", "solver/elasticity/isotropic_elasticity.cpp",
     "(1.0 - 2.0 * poisson)", "(1.0 - poisson)", "elastic_kernel"),
    ("free strain with 2 lambda for 3 lambda", "solver/elasticity/assembly.cpp",
     "3.0 * e.lambda", "2.0 * e.lambda", "elastic_kernel"),
    ("half the clearance becomes the whole", "solver/contact/contact_pairs.cpp",
     "pair.gap = 0.5 * hinge.clearance", "pair.gap = hinge.clearance", "rigid_door/barrels_on_a_fixed_pin"),
    ("end float of the frame's side dropped", "solver/contact/contact_pairs.cpp",
     "hinge.end_float - below", "below", "hinge_statics/end_float_is_shared_out"),
    ("a circle that begins a node late", "meshing/sweep/cylinder_surfaces.cpp",
     "return (turn - up) * radius < same_place ? 0.0 : up;", "return (turn - up) * radius < 0.0 ? 0.0 : up;", "mesh_test/a_circle_begins_with_the_node_at_zero"),
    ("insulation weighs nothing", "solver/elasticity/nodal_loads.cpp",
     "return steel + per_area *", "return steel + 0.0 * per_area *", "weights/hand_formulas_and_mesh_agree"),
    ("gravity of a top-hung door turns the wrong way", "solver/elasticity/nodal_loads.cpp",
     "return {c, -s, 0.0};", "return {c, s, 0.0};", "hinge_statics/down_from_a_flap"),
    ("sign of the thrust on a knuckle", "solver/strength/hinge_forces.cpp",
     "from_below ? contact_force : -contact_force", "from_below ? -contact_force : contact_force", "hinge_statics/knuckles_carry_the_door"),
    ("root of a leaf on the wrong side", "solver/strength/hinge_forces.cpp",
     "root.x += side", "root.x -= side", "hinge_statics/leaves_transfer_the_forces_of_their_knuckles"),
    ("bearing on half the knuckle", "solver/strength/hinge_forces.cpp",
     "result.worst_line_load / hinge.pin_diameter", "result.worst_line_load / (0.5 * hinge.pin_diameter)", "hinge_statics/knuckles_carry_the_door"),
    ("half the bending in a pin", "solver/strength/pin_section_forces.cpp",
     "return std::hypot(moment.x, moment.y);", "return 0.5 * std::hypot(moment.x, moment.y);", "strength_formulas/moment_of_a_rod_through_lugs"),
    ("a wrong row of the steel table", "solver/material/steel_properties.cpp", "{0.470, 0.180, 0.310}", "{0.470, 0.180, 0.130}", "en_1993_1_2"),
    ("elongation without its square", "solver/material/steel_properties.cpp",
     "1.2e-5 * t + 0.4e-8 * t * t - 2.416e-4", "1.2e-5 * t - 2.416e-4", "en_1993_1_2"),
    ("twist of a weld dropped", "solver/strength/strength_formulas.cpp",
     "force.x / lines.length + moment.y * z / polar", "force.x / lines.length", "hinge_statics/weld_in_twist"),
    ("pull on a leaf dropped", "solver/strength/strength_formulas.cpp",
     "std::abs(s.force.y) / (s.wide * s.deep)", "0.0 * std::abs(s.force.y)", "strength_formulas"),
    ("second stage of a heat step", "solver/heat/sdirk2.cpp",
     "heat[u] += (1.0 - gamma) * step", "heat[u] += gamma * step", "conduction"),
    ("conductivity of insulation from the wrong end", "solver/material/insulation_properties.cpp",
     "(temperature - a.first) / (b.first - a.first)", "(b.first - temperature) / (b.first - a.first)", "handbook"),
    ("surroundings do not radiate back", "solver/heat/surface_flux.cpp",
     "radiation * (a * a * a * a - s * s * s * s)", "radiation * (0.0 * a - s * s * s * s)", "conduction"),
    ("natural convection with another exponent", "solver/heat/surface_flux.cpp",
     "std::pow(rayleigh, 1.0 / 6.0)", "std::pow(rayleigh, 1.0 / 5.0)", "thermal_bow/natural_convection"),
    ("twice the bow of the hand check", "solver/heat/door_heat_problem.cpp", "(8.0 * apart)", "(4.0 * apart)", "thermal_bow/door_in_a_quick_fire"),
    ("the fire heats the gasket's rim as well", "solver/heat/door_heat_problem.cpp",
     "const double inset = door.fire.gasket_inset;", "const double inset = 0.0 * door.fire.gasket_inset;", "hinge_statics/heat_stored_in_steel"),
    ("bow read from one diagonal only, doubled", "solver/qoi/straightedge_readings.cpp",
     "corners = 0.5 * (one + other);", "corners = one + other;", "thermal_bow/door_in_a_quick_fire"),
    ("wedge without its friction", "solver/contact/latch_model.cpp",
     "std::tan(latch.lead + std::atan(latch.friction))", "std::tan(latch.lead)", "gasket_and_latch_laws/hand_on_a_wedge"),
    ("a gasket that forgets its set", "solver/analysis/closed_analysis.cpp",
     "gasket.height - gasket.permanent_set * maximum", "gasket.height - 0.0 * maximum", "closed_door/cooled_again_the_gasket_presses_less"),
    ("half of a leak", "solver/analysis/closed_result.cpp",
     "s.leak_area -= g.squeeze * g.length", "s.leak_area -= 0.5 * g.squeeze * g.length", "one_latch_or_two"),
    ("the latch edge moves the wrong way in its opening", "solver/analysis/closed_result.cpp",
     "door.opening.latch - u.x", "door.opening.latch + u.x", "closed_door_gaps/the_tightest_point_in_the_opening"),
    ("a hot pin gains play", "solver/strength/thermal_clearance.cpp", "(tightest - pin)", "(pin - tightest)", "loose_skin/play_that_a_hot_pin_takes"),
    ("a door that is opened and never shut again", "solver/analysis/wear_analysis.cpp",
     "both_ways = 2.0", "both_ways = 1.0", "wear/a_rigid_door_wears_where_it_presses"),
    ("a chamber face that warps the other way", "solver/contact/closed_contact_pairs.cpp",
     "return door.opening.warp * 0.5 *", "return -door.opening.warp * 0.5 *", "closed_door_gaps/a_warped_chamber_face"),
    ("a lid tried on one side twice", "solver/error/load_offset.cpp",
     "LoadChange{times(-offset, load), times(-offset, displacement)}",
     "LoadChange{times(offset, load), times(offset, displacement)}", "load_offset_test"),
    ("a bore with corners that stand out", "solver/error/bore_facet_error.cpp",
     "missing -= corner_less_arc(solved, adjoint, side)", "missing += corner_less_arc(solved, adjoint, side)",
     "bore_facet_error_test"),
    ("shares of a leaf without the distance of its knuckles", "cases/verdict/bearing_position_error.cpp",
     "moment / ((last - first) * greatest)", "moment / greatest", "reported_error_test"),
    ("a fast pin looked at from one side of its sections", "solver/strength/pin_section_forces.cpp",
     "std::max(across(s.above), across(s.below))", "across(s.above)",
     "hinge_statics/a_fixed_pin_is_bent_by_all_beyond_its_knuckle"),
    ("a lid whose panel does not feel the moved load", "solver/error/load_offset.cpp",
     "body.elastic->solve(load)", "times(0.0, load)", "load_offset_test"),
    ("a lid that is offset where it should be turned", "solver/error/load_offset.cpp",
     "norm(resultant) * cross(down, Vec3{0.0, 0.0, 1.0})", "resultant", "load_offset_test"),
    ("a leaf in the joint group of the panel", "meshing/mesh/joint_group.cpp",
     "result.push_back(3 + cell.hinge);", "result.push_back(0);", "discretization_test"),
    ("stress in a file with the free strain added", "solver/field_output/state_file.cpp",
     "stress -= elasticity::free_strain_stress", "stress += elasticity::free_strain_stress", "state_file_test"),
    ("a hinge that may bind keeps its small error", "cases/verdict/binding_error.cpp",
     "const double widened = may_bind * bound->limit->value", "const double widened = 0.0", "reported_error_test"),
    ("two meshes that divide a space alike", "meshing/section/grid_planes.cpp",
     "std::max(cell.at_least, needed(cell.finer) - 1)", "std::max(cell.at_least, needed(cell.finer))", "mesh_test"),
]

# Why no test notices a mutant that is known to escape; the trial ends with status 1 all the same.
REASONS = {
    "a lid whose panel does not feel the moved load":
        "changes a lid's answer by less than 0.5 %, even with steel a thousandth as stiff; tests of a lid are as sharp as "
        "0.2 % of it, on another mesh",
}

# Tried in this order after the program that the mutant names first; the slow ones come last.
PROGRAMS = ["en_1993_1_2", "handbook", "strength_formulas", "conduction", "contact_kernel",
            "hinge_statics", "elastic_kernel", "manufactured", "hinge_parts", "thermal_bow",
            "rigid_door", "weights", "pin_in_bore", "gasket_foundation", "loose_skin", "wear",
            "closed_door", "closed_door_gaps", "one_latch_or_two", "drop_contributions"]


def run(command, **more):
    return subprocess.run(command, capture_output=True, text=True, errors="replace", **more)


def failures(tests, asked):
    """Named cases of a program that fail; its own name where it ends otherwise."""
    name, _, case = asked.partition("/")
    only = ["--run_test=" + case] if case else []
    try:
        made = run([str(tests / name), "--color_output=no", *only], timeout=900)
    except subprocess.TimeoutExpired:
        return [name + " (no end)"]
    cases = sorted(set(re.findall(r'error: in "([^"]+)"', made.stdout + made.stderr)))
    if made.returncode != 0 and not cases:
        return [name]
    return [name + "/" + case for case in cases]


HEAD = """# Kernels broken on purpose

One thing at a time is broken in a copy, and the verification tests say which of them notice
(`python3 tests/mutations/trial.py build/mutants docs/verification/mutations.md`). The trial of
a mutant ends with the first program, or case, that notices. The cases of `hinge_statics` were
written for mutants that no earlier test asked after (5, 8 to 11, 15, 22).

| no | broken | in | noticed by |
|---|---|---|---|
"""


def first_to_notice(ninja, tests, first):
    """Failed cases of the first program that notices, none where all are content, None where one does not build."""
    for name in [first] + [p for p in PROGRAMS if p != first]:
        built = run(ninja + [name.partition("/")[0]])
        if built.returncode != 0:
            print(built.stdout[-2000:], file=sys.stderr)
            return None
        caught = failures(tests, name)
        if caught:
            return caught
    return []


def rows_of(page):
    """The rows that stand in the page, by number."""
    if not page.exists():
        return {}
    return {int(row.split("|")[1]): row for row in page.read_text().splitlines() if re.match(r"\| \d+ \|", row)}


def pattern(old):
    """The formatter may have broken the line."""
    return re.compile(r"\s+".join(re.escape(word) for word in old.split()))


def without_text(root):
    """Mutants whose text, or the case to ask first, is not in the sources below a folder."""
    tests = "".join(path.read_text() for path in (root / "tests").rglob("*.cpp"))
    lost = []
    for number, (what, where, old, _, first) in enumerate(MUTANTS, 1):
        path = root / where
        if not path.exists() or not pattern(old).search(path.read_text()):
            lost.append(f"{number} ({what}): cannot be applied to {where}")
        case = first.partition("/")[2].rpartition("/")[2]
        if case and f"({case})" not in tests:
            lost.append(f"{number} ({what}): there is no test case {case}")
    return lost


def main():
    if sys.argv[1:] == ["--texts"]:
        lost = without_text(pathlib.Path(__file__).resolve().parents[2])
        print("\n".join(lost or [f"{len(MUTANTS)} mutants can be applied"]))
        return 1 if lost else 0
    copy = pathlib.Path(sys.argv[1]).resolve()
    page = pathlib.Path(sys.argv[2]).resolve()
    wanted = sys.argv[3:]
    copy.mkdir(parents=True, exist_ok=True)
    # New times (-m): a file whose mutant was tried last would else be older than its broken object, and
    # stay broken.
    subprocess.run(f"git archive HEAD | tar -xm -C '{copy}'", shell=True, check=True)
    build = copy / "build" / "release"
    subprocess.run(["cmake", "--preset", "release"], cwd=copy, check=True, stdout=subprocess.DEVNULL)
    ninja = ["ninja", "-C", str(build), "-j1"]
    asked = sorted({m[4] for n, m in enumerate(MUTANTS, 1) if not wanted or str(n) in wanted})
    subprocess.run(ninja + sorted({a.partition("/")[0] for a in asked}), check=True, stdout=subprocess.DEVNULL)
    for name in asked:  # nothing is broken yet
        assert not failures(build / "tests", name), (name, "fails unbroken")
    rows = rows_of(page)
    faults = []
    for number, (what, where, old, new, first) in enumerate(MUTANTS, 1):
        if wanted and str(number) not in wanted:
            continue
        path = copy / where
        text = path.read_text() if path.exists() else ""
        flat = pattern(old)
        began = time.time()
        if flat.search(text):
            try:
                path.write_text(flat.sub(lambda _: new, text))
                caught = first_to_notice(ninja, build / "tests", first)
            finally:
                path.write_text(text)
        else:
            caught = None
        if caught is None:
            faults.append(f"{number} ({what}): cannot be applied to {where}")
            print(faults[-1], flush=True)
            continue
        if not caught:
            faults.append(f"{number} ({what}): escapes")
        said = ", ".join(f"`{c}`" for c in caught[:6]) + (f" and {len(caught) - 6} more" if len(caught) > 6 else "")
        escape = "**escapes**" + (f": {REASONS[what]}" if what in REASONS else "")
        rows[number] = f"| {number} | {what} | {where} | {said or escape} |"
        print(f"{rows[number]} {time.time() - began:.0f} s", flush=True)
        page.write_text(HEAD + "\n".join(rows[n] for n in sorted(rows)) + "\n")
    for fault in faults:
        print(fault, file=sys.stderr)
    return 1 if faults else 0


sys.exit(main())
