"""Bend the evidence's sheets by elements of two other programs and store how far they go.

    python -m pip install --target FOLDER KratosMultiphysics KratosStructuralMechanicsApplication felupe
    PYTHONPATH=FOLDER .venv/bin/python scripts/plate_by_other_elements.py

Kratos (BSD): flat triangles without transverse shear, three corners each. FElupe (GPL, so it is no dependency of
ours): bricks of 27 nodes, one through the thickness, of the sheet without openings.
"""

import csv
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))
NAME = "bent_sheets_elements.csv"
TABLES = (ROOT / "sim/answers/evidence/data" / NAME, ROOT / "tests/published/tables" / NAME)
FINEST = (0.005, 0.0055)  # m, edges of triangles: no more than some seven thousand corners of each sheet
FACET = 0.002  # m
BRICKS = (30, 0.008)  # along, and m across


def by_triangles(one, widest):
    """How far (m) top and corner go."""
    import KratosMultiphysics as kratos  # noqa: N813
    from KratosMultiphysics import StructuralMechanicsApplication

    from sim.answers.evidence.plates import FELT, moved_most

    mesh = one.mesh(widest, FACET)
    model = kratos.Model()
    part = model.CreateModelPart("sheet")
    part.ProcessInfo[kratos.DOMAIN_SIZE] = 3
    for name in ("DISPLACEMENT", "ROTATION", "REACTION", "REACTION_MOMENT", "VOLUME_ACCELERATION"):
        part.AddNodalSolutionStepVariable(getattr(kratos, name))
    made = part.CreateNewProperties(1)
    made[kratos.YOUNG_MODULUS], made[kratos.POISSON_RATIO] = one.sheet.modulus, one.sheet.poisson
    made[kratos.THICKNESS], made[kratos.DENSITY] = one.sheet.thickness, 1.0
    made.SetValue(kratos.CONSTITUTIVE_LAW, StructuralMechanicsApplication.LinearElasticPlaneStress2DLaw())
    places = one.fold(mesh.points)
    for number, place in enumerate(places, 1):
        part.CreateNewNode(number, *map(float, place))
    for number, corners in enumerate(mesh.triangles, 1):
        part.CreateNewElement("ShellThinElement3D3N", number, [int(k) + 1 for k in corners], made)
    unknowns = [
        (getattr(kratos, f"{kind}_{axis}"), getattr(kratos, f"{push}_{axis}"))
        for kind, push in (("DISPLACEMENT", "REACTION"), ("ROTATION", "REACTION_MOMENT"))
        for axis in "XYZ"
    ]
    for moves, pushes in unknowns:
        kratos.VariableUtils().AddDof(moves, pushes, part)
    held = one.held(mesh.points)
    for node in part.Nodes:
        node.SetSolutionStepValue(kratos.VOLUME_ACCELERATION, [0.0, 0.0, -FELT])
        if held[node.Id - 1]:
            for moves, _ in unknowns:
                node.Fix(moves)
    scheme = kratos.ResidualBasedIncrementalUpdateStaticScheme()
    builder = kratos.ResidualBasedBlockBuilderAndSolver(kratos.SkylineLUFactorizationSolver())
    strategy = kratos.ResidualBasedLinearStrategy(part, scheme, builder, False, False, False, False)
    strategy.Initialize()
    strategy.Solve()
    moved = np.array([list(node.GetSolutionStepValue(kratos.DISPLACEMENT)) for node in part.Nodes])
    return moved_most(places, mesh.points, moved)


def by_bricks(one, along, across):
    """The same of a sheet without openings."""
    import felupe
    from scipy.sparse.linalg import splu

    from meshes.plate.sheet import bent_points
    from sim.answers.evidence.plates import FELT, moved_most

    low, high = one.pattern.outline.outer.min(axis=0), one.pattern.outline.outer.max(axis=0)
    knots = sorted({low[1], 0.0, high[1], *(b.at + s * b.width / 2 for b in one.pattern.bends for s in (-1, 1))})
    counts = [max(2, int(np.ceil((b - a) / across))) for a, b in pairwise(knots)]
    rows = np.concatenate(
        [[knots[0]], *(np.linspace(a, b, n + 1)[1:] for (a, b), n in zip(pairwise(knots), counts, strict=True))]
    )
    grid = felupe.Cube(n=(along + 1, len(rows), 2))
    for more in (felupe.mesh.add_midpoints_edges, felupe.mesh.add_midpoints_faces, felupe.mesh.add_midpoints_volumes):
        grid = more(grid)
    x, y, z = grid.points.T
    y = np.interp(y * (len(rows) - 1), np.arange(len(rows)), rows)
    flat = np.stack([low[0] + (high[0] - low[0]) * x, y], axis=1)
    places = bent_points(flat, (z - 0.5) * one.sheet.thickness, one.pattern.bends)
    mesh = felupe.Mesh(places, grid.cells, "hexahedron27")
    region = felupe.RegionTriQuadraticHexahedron(mesh)
    field = felupe.FieldContainer([felupe.Field(region, dim=3)])
    body = felupe.SolidBody(felupe.LinearElastic(E=one.sheet.modulus, nu=one.sheet.poisson), field)
    loads = np.zeros_like(places)
    np.add.at(loads[:, 2], mesh.cells, -FELT * np.einsum("aq,qc->ca", region.h.reshape(27, -1), region.dV))
    free = np.repeat(x > 1e-9, 3)
    matrix = body.assemble.matrix().tocsr()[free][:, free].tocsc()
    moved = np.zeros(places.size)
    moved[free] = splu(matrix, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}).solve(loads.ravel()[free])
    middle = np.abs(z - 0.5) < 1e-9
    return moved_most(places[middle], flat[middle], moved.reshape(-1, 3)[middle])


def main():
    from sim.answers.evidence.plates import held_sheets

    rows = []
    for one, widest in zip(held_sheets(), FINEST, strict=True):
        rows.append([one.name, "thin shells", *by_triangles(one, widest)])
        print(rows[-1], flush=True)
        if not one.pattern.outline.holes:
            rows.append([one.name, "bricks", *by_bricks(one, *BRICKS)])
            print(rows[-1], flush=True)
    told = [[name, by, f"{1e3 * top:.5f}", f"{1e3 * corner:.5f}"] for name, by, top, corner in rows]
    for file in TABLES:
        with file.open("w", newline="", encoding="utf-8") as out:
            csv.writer(out, lineterminator="\n").writerows([["sheet", "by", "top[mm]", "corner[mm]"], *told])
    print(f"written: {', '.join(str(f.relative_to(ROOT)) for f in TABLES)}")


if __name__ == "__main__":
    sys.exit(main())
