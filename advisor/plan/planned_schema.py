"""The form of `to_get` and `to_find_out` as JSON Schema."""

from __future__ import annotations

from typing import Any

from advisor.plan.planned import MAX_ENTRIES

Schema = dict[str, Any]
_NAME: Schema = {"$ref": "#/$defs/name"}
_LEFT_OUT: Schema = {"$ref": "#/$defs/not%20known"}
_NOTE: Schema = {"description": "remarks, which no rule reads", "type": ["string", "number", "boolean", "null"]}


def planned_sections() -> Schema:
    """The two sections by their names. How a thing should be is checked by the reader alone."""
    steps = {"anyOf": [_NAME, {"type": "array", "items": _NAME}, _LEFT_OUT]}
    get = {
        "what": {"description": "gear, a product, a part of the plan or a helper", "type": ["string", "integer"]},
        "for": {"description": "the steps before which it must be there", **steps},
        "as": {"description": "how it should be, as in {lead_free: yes}", "anyOf": [{"type": "object"}, _LEFT_OUT]},
        "note": _NOTE,
    }
    find = {
        "ask": {"description": "the question", "type": ["string", "null"]},
        "of": {"description": "whose: house, crew, or a name of this plan", "type": ["string", "integer"]},
        "attribute": {"description": "what of it is unknown", "anyOf": [{"type": "string"}, _LEFT_OUT]},
        "by": {"description": "the step before which it is known at the latest", "anyOf": [_NAME, _LEFT_OUT]},
        "note": _NOTE,
    }
    return {
        "to_get": _listed("what is wanted and not there yet", get, ["what"]),
        "to_find_out": _listed("what is unknown and will be looked at, measured or asked", find, ["of"]),
    }


def _listed(description: str, properties: Schema, required: list[str]) -> Schema:
    entry = {"type": "object", "required": required, "properties": properties, "additionalProperties": False}
    listed = {"type": "array", "maxItems": MAX_ENTRIES, "items": entry}
    return {"description": description, "anyOf": [listed, _LEFT_OUT]}
