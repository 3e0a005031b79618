#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A second opinion on heat, thermal bow and stiffness: the same lofted mesh in another library.

    cmake --build --preset release --target second_opinion
    build/release/tests/second_opinion cases/examples/light-cabinet-door.toml build/ours.txt
    /usr/bin/python3 tests/second_opinion/compare.py build/ours.txt docs/verification/second-opinion.md

Needs python3-dolfinx (Debian 12: 0.5.2); not part of the test run. Same mesh, same order (27-node
hexahedra), same 3 x 3 x 3 rule, another code from the shape functions to the factorisation.
"""
import pathlib
import sys

import basix
import dolfinx
import numpy as np
import petsc4py
import ufl
from dolfinx import fem, mesh
from mpi4py import MPI
from petsc4py import PETSc

STEEL_K, FILLING_K = 45.0, 0.08  # W/(m K), as in ours.cpp
HOT, COLD, ELONGATION = 300.0, 40.0, 12e-6
MODULUS, POISSON, PER_VOLUME = 200e9, 0.3, 76982.0


def read(path):
    """Blocks of the text file, each an array."""
    blocks = {}
    with open(path) as file:
        while header := file.readline().split():
            name, count = header[0], int(header[1])
            blocks[name] = np.array([file.readline().split() for _ in range(count)], dtype=float)
    return blocks


def build(nodes, cells):
    """The mesh, with its cells' nodes turned into the library's order."""
    points = basix.create_element(basix.ElementFamily.P, basix.CellType.hexahedron, 2,
                                  basix.LagrangeVariant.gll_warped).points
    ours = np.rint(2 * points).astype(int) @ np.array([1, 3, 9])
    domain = ufl.Mesh(ufl.VectorElement("Lagrange", "hexahedron", 2))
    used, local = np.unique(cells, return_inverse=True)
    local = local.reshape(cells.shape)
    made = mesh.create_mesh(MPI.COMM_SELF, local[:, ours].astype(np.int64), nodes[used], domain)
    return made, used


def node_of_dofs(made, used, space):
    """Which of our nodes each (block of) unknowns stands for: cell by cell, since both are P2."""
    geometry = made.geometry
    made_of = np.zeros(space.dofmap.index_map.size_local, dtype=int)
    for c in range(made.topology.index_map(3).size_local):
        made_of[space.dofmap.cell_dofs(c)] = used[
            np.array(geometry.input_global_indices)[geometry.dofmap.links(c)]]
    return made_of


def solve(form, right, conditions):
    problem = fem.petsc.LinearProblem(form, right, bcs=conditions, petsc_options={
        "ksp_type": "preonly", "pc_type": "lu", "pc_factor_mat_solver_type": "mumps"})
    return problem.solve()


def heat(blocks, dx):
    cells = blocks["cells"].astype(int)
    made, used = build(blocks["nodes"], cells[:, 1:])
    space = fem.FunctionSpace(made, ("Lagrange", 2))
    node = node_of_dofs(made, used, space)
    k = fem.Function(fem.FunctionSpace(made, ("DG", 0)))
    k.x.array[:] = np.where(cells[made.topology.original_cell_index, 0] == 1, STEEL_K, FILLING_K)
    y = blocks["nodes"][node, 1]
    conditions = [
        fem.dirichletbc(PETSc.ScalarType(HOT), np.where(y < 1e-9)[0].astype(np.int32), space),
        fem.dirichletbc(PETSc.ScalarType(COLD),
                        np.where(y > blocks["depth"] - 1e-9)[0].astype(np.int32), space)]
    u, v = ufl.TrialFunction(space), ufl.TestFunction(space)
    zero = fem.Constant(made, PETSc.ScalarType(0.0))
    found = solve(k * ufl.inner(ufl.grad(u), ufl.grad(v)) * dx, zero * v * dx, conditions)
    theirs = np.full(len(blocks["nodes"]), np.nan)
    theirs[node] = found.x.array
    return theirs


class Elastic:
    """The steel cells alone."""

    def __init__(self, blocks, dx):
        cells = blocks["cells"].astype(int)
        self.mesh, self.used = build(blocks["nodes"], cells[cells[:, 0] == 1, 1:])
        self.space = fem.VectorFunctionSpace(self.mesh, ("Lagrange", 2))
        self.node = node_of_dofs(self.mesh, self.used, self.space)
        self.block = {n: b for b, n in enumerate(self.node)}
        self.count = len(blocks["nodes"])
        self.dx = dx
        self.mu = MODULUS / (2 * (1 + POISSON))
        self.lam = MODULUS * POISSON / ((1 + POISSON) * (1 - 2 * POISSON))

    def stiffness(self, u, v):
        strain = ufl.sym(ufl.grad(u))
        stress = self.lam * ufl.tr(strain) * ufl.Identity(3) + 2 * self.mu * strain
        return ufl.inner(stress, ufl.sym(ufl.grad(v))) * self.dx

    def hold(self, pairs):
        conditions = []
        for component in range(3):
            unknowns = np.array([3 * self.block[n] + c for n, c in pairs if c == component], dtype=np.int32)
            if len(unknowns):
                conditions.append(fem.dirichletbc(PETSc.ScalarType(0.0), np.sort(unknowns),
                                                  self.space.sub(component)))
        return conditions

    def solve(self, right_of, pairs):
        u, v = ufl.TrialFunction(self.space), ufl.TestFunction(self.space)
        found = solve(self.stiffness(u, v), right_of(v), self.hold(pairs))
        theirs = np.full((self.count, 3), np.nan)
        theirs[self.node] = found.x.array.reshape(-1, 3)
        return theirs

    def bowed(self, temperature, pairs):
        scalar = fem.FunctionSpace(self.mesh, ("Lagrange", 2))
        t = fem.Function(scalar)
        t.x.array[:] = temperature[node_of_dofs(self.mesh, self.used, scalar)]
        pressure = (3 * self.lam + 2 * self.mu) * ELONGATION * (t - 20.0)
        return self.solve(lambda v: pressure * ufl.div(v) * self.dx, pairs)

    def hung(self, pairs):
        down = fem.Constant(self.mesh, PETSc.ScalarType((0.0, 0.0, -PER_VOLUME)))
        return self.solve(lambda v: ufl.inner(down, v) * self.dx, pairs)


def compare(ours, theirs, scale):
    known = ~np.isnan(theirs)
    return np.max(np.abs(ours[known] - theirs[known])) / scale


def main():
    source, page = sys.argv[1:3]
    blocks = read(source)
    blocks["temperature"] = blocks["temperature"][:, 0]
    # The outer face: where the skins end; leaves stand beyond it.
    kept = blocks["nodes"][np.isclose(blocks["temperature"], COLD, rtol=0, atol=1e-12), 1]
    blocks["depth"] = kept.min()
    dx = ufl.dx(metadata={"quadrature_degree": 5})  # 3 x 3 x 3 Gauss points
    rows = []

    theirs = heat(blocks, dx)
    rows.append(("steady heat, fixed conductivities, mean temperature of all nodes, degC",
                 np.nanmean(theirs), blocks["temperature"].mean(),
                 compare(blocks["temperature"], theirs, HOT - COLD)))

    elastic = Elastic(blocks, dx)
    light = [(int(n), int(c)) for n, c in blocks["lightly"]]
    theirs = elastic.bowed(blocks["temperature"], light)
    far = np.nanargmax(np.linalg.norm(theirs, axis=1))
    rows.append(("thermal bow of the steel, largest movement, mm",
                 1e3 * np.linalg.norm(theirs[far]), 1e3 * np.linalg.norm(blocks["bowed"][far]),
                 compare(blocks["bowed"], theirs, np.linalg.norm(theirs[far]))))

    held = [(int(n), c) for n in blocks["held"][:, 0] for c in range(3)]
    theirs = elastic.hung(held)
    far = np.nanargmax(np.linalg.norm(theirs, axis=1))
    rows.append(("own weight on held knuckles, largest movement, mm",
                 1e3 * np.linalg.norm(theirs[far]), 1e3 * np.linalg.norm(blocks["hung"][far]),
                 compare(blocks["hung"], theirs, np.linalg.norm(theirs[far]))))

    agreed = all(row[3] < 1e-3 for row in rows)
    text = f"""# A second opinion

The same lofted mesh ({len(blocks['cells'])} hexahedra of 27 nodes, {len(blocks['nodes'])} nodes, the door's own
body with its hinge halves) given to an independent finite-element library: DOLFINx
{dolfinx.__version__}, Basix {basix.__version__}, PETSc {'.'.join(map(str, PETSc.Sys.getVersion()))} (petsc4py {petsc4py.__version__}), numpy {np.__version__}.
Same order, same 3 x 3 x 3 rule, so answers may differ by rounding only; asked is 0.1 %. How to repeat it
stands at the head of `tests/second_opinion/compare.py`.

| problem | theirs | ours | worst difference at any node, of the range |
|---|---|---|---|
"""
    for what, a, b, off in rows:
        text += f"| {what} | {a:.9g} | {b:.9g} | {off:.1e} |\n"
    text += f"\n{'All agree.' if agreed else 'THEY DO NOT AGREE.'}\n"
    pathlib.Path(page).write_text(text)
    print(text)
    return 0 if agreed else 1


sys.exit(main())
