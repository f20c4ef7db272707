"""STEP files written by hand for tests (ISO 10303-21, AP 214): a closed mesh as a faceted B-rep in millimetres."""

from collections.abc import Iterator
from itertools import count

import numpy as np

from meshes.mesh import Floats, Ints

HEAD = """\
ISO-10303-21;
HEADER;
FILE_DESCRIPTION((''),'2;1');
FILE_NAME('plate','',(''),(''),'','','');
FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));
ENDSEC;
DATA;
#1=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));
#2=(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.));
#3=(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT());
#4=UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-7),#1,'distance_accuracy_value','');
#5=(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#4))
GLOBAL_UNIT_ASSIGNED_CONTEXT((#1,#2,#3))REPRESENTATION_CONTEXT('',''));
#6=APPLICATION_CONTEXT('core data for automotive mechanical design processes');
#7=APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#6);
#8=PRODUCT_CONTEXT('',#6,'mechanical');
#9=PRODUCT('plate','plate','',(#8));
#10=PRODUCT_DEFINITION_FORMATION('','',#9);
#11=PRODUCT_DEFINITION_CONTEXT('part definition',#6,'design');
#12=PRODUCT_DEFINITION('design','',#10,#11);
#13=PRODUCT_DEFINITION_SHAPE('','',#12);
#14=CARTESIAN_POINT('',(0.,0.,0.));
#15=DIRECTION('',(0.,0.,1.));
#16=DIRECTION('',(1.,0.,0.));
#17=AXIS2_PLACEMENT_3D('',#14,#15,#16);
#18=SHAPE_DEFINITION_REPRESENTATION(#13,#19);
#19=FACETED_BREP_SHAPE_REPRESENTATION('',(#17,#20),#5);
#20=FACETED_BREP('plate',#21);
"""


def step_text(vertices: Floats, faces: Ints) -> str:
    """The file's text; vertices (n, 3) [m], triangles (m, 3) that look outward."""
    return HEAD + "\n".join(_solid(1e3 * vertices, faces)) + "\nENDSEC;\nEND-ISO-10303-21;\n"


def _solid(corners: Floats, faces: Ints) -> Iterator[str]:
    number, made = count(22), []
    points = [next(number) for _ in corners]
    for point, corner in zip(points, corners, strict=True):
        yield f"#{point}=CARTESIAN_POINT('',({_listed(corner)}));"
    for face in faces:
        a, b, c = corners[face]
        normal, along = np.cross(b - a, c - a), b - a
        z, x, place, plane, loop, bound, whole = (next(number) for _ in range(7))
        yield f"#{z}=DIRECTION('',({_listed(normal / np.linalg.norm(normal))}));"
        yield f"#{x}=DIRECTION('',({_listed(along / np.linalg.norm(along))}));"
        yield f"#{place}=AXIS2_PLACEMENT_3D('',#{points[face[0]]},#{z},#{x});"
        yield f"#{plane}=PLANE('',#{place});"
        yield f"#{loop}=POLY_LOOP('',({','.join(f'#{points[k]}' for k in face)}));"
        yield f"#{bound}=FACE_OUTER_BOUND('',#{loop},.T.);"
        yield f"#{whole}=FACE_SURFACE('',(#{bound}),#{plane},.T.);"
        made.append(whole)
    yield f"#21=CLOSED_SHELL('',({','.join(f'#{k}' for k in made)}));"


def _listed(vector: Floats) -> str:
    return ",".join(f"{v:.12f}" for v in vector)
