"""A triangle mesh as 3MF, the core of the format alone.

Source: 3MF Core Specification 1.3 (3MF Consortium), recalled.
"""

from __future__ import annotations

import io
import zipfile
from typing import Final

from strutwright.values import Faces, HubPoints

__all__ = ["three_mf"]

TYPES: Final = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"""
RELATIONS: Final = """<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/3dmodel.model" Id="rel0"
 Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"""
HEAD: Final = """<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en-US"
 xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">
<resources><object id="1" type="model"><mesh>
<vertices>
"""
FOOT: Final = """</triangles>
</mesh></object></resources>
<build><item objectid="1"/></build>
</model>
"""


def three_mf(points: HubPoints, faces: Faces) -> bytes:
    """Return a mesh as a 3MF package; the same mesh gives the same bytes.

    Parameters
    ----------
    points : (n, 3) array, mm
    faces : (m, 3) int array
        Anticlockwise from outside.
    """
    rows = [HEAD]
    rows += [f'<vertex x="{x:.5f}" y="{y:.5f}" z="{z:.5f}"/>\n' for x, y, z in points.tolist()]
    rows.append("</vertices>\n<triangles>\n")
    rows += [f'<triangle v1="{a}" v2="{b}" v3="{c}"/>\n' for a, b, c in faces.tolist()]
    rows.append(FOOT)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in (
            ("[Content_Types].xml", TYPES),
            ("_rels/.rels", RELATIONS),
            ("3D/3dmodel.model", "".join(rows)),
        ):
            package.writestr(zipfile.ZipInfo(name), text, zipfile.ZIP_DEFLATED)
    return out.getvalue()
