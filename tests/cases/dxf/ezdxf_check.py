"""Loads a DXF with ezdxf, audits it, and prints what it holds as JSON: python3 ezdxf_check.py FILE"""
import json
import sys

import ezdxf

doc = ezdxf.readfile(sys.argv[1])
auditor = doc.audit()


def content(e):
    kind = e.dxftype()
    if kind == "LINE":
        return [*e.dxf.start, *e.dxf.end]
    if kind == "ARC":
        return [*e.dxf.center, e.dxf.radius, e.dxf.start_angle, e.dxf.end_angle]
    if kind == "CIRCLE":
        return [*e.dxf.center, e.dxf.radius]
    if kind == "LWPOLYLINE":
        return [x for p in e.get_points("xyb") for x in p]
    if kind == "POLYLINE":
        return [x for v in e.vertices for x in v.dxf.location]
    if kind == "TEXT":
        return [*e.dxf.insert, e.dxf.height, e.dxf.rotation]
    if kind == "POINT":
        return [*e.dxf.location]
    return []


print(json.dumps({
    "version": doc.dxfversion,
    "units": doc.units,
    "measurement": doc.header["$MEASUREMENT"],
    "extmin": list(doc.header["$EXTMIN"]),
    "extmax": list(doc.header["$EXTMAX"]),
    "errors": [e.message for e in auditor.errors],
    "fixes": [e.message for e in auditor.fixes],
    "layers": {layer.dxf.name: layer.dxf.linetype for layer in doc.layers},
    "linetypes": [t.dxf.name for t in doc.linetypes],
    "entities": [{
        "type": e.dxftype(),
        "layer": e.dxf.layer,
        "closed": bool(getattr(e, "closed", False) or getattr(e, "is_closed", False) is True),
        "text": e.dxf.get("text", "") if e.dxftype() == "TEXT" else "",
        "numbers": content(e),
    } for e in doc.modelspace()],
}))
