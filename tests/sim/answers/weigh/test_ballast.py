"""Where lead could lie."""

from pathlib import Path

import pytest

from meshes.plate.back_plate import plate_of
from meshes.plate.catalogue import standard_plate_shape
from meshes.plate.written import write_flat
from scenarios.demos import demo_path
from sim.answers.weigh.ballast import lead_parts
from sim.case import Case


@pytest.mark.parametrize("bent", [True, False])
def test_a_drawing_holds_lead_in_its_channel_if_it_says_how_it_is_bent(tmp_path: Path, bent: bool) -> None:
    file = tmp_path / "flat.dxf"
    write_flat(plate_of(standard_plate_shape(), 8000.0), file)
    if not bent:
        file.write_text(file.read_text(encoding="utf-8").replace(" deg ", " "), encoding="utf-8")
    case = Case.read(demo_path("small-woman-steel")).vary(
        {"plate": {"file": str(file), "material": "stainless steel", "thickness": "3 mm"}}
    )
    assert ("plate channel" in lead_parts(case).places) is bent
