"""A small vocabulary of our own, so that these tests do not hang on what the rules know."""

from __future__ import annotations

import tempfile
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.plan.model import Plan
from advisor.rulebase.vocabulary import Vocabulary
from advisor.rulebase.vocabulary_files import load_vocabulary

_FILES = {
    "house": """
sort: house
attributes:
  built: {type: year, ask: When was the house built?, presume: {value: 1900, because: unknown counts as old}}
  occupied: {type: yes_no, ask: Does anyone live in it?}
  pets: {type: term, of: animal, many: yes, ask: Which pets?}
  children: {type: count, least: "0", most: "30"}
  start: {type: date}
  remarks: {type: text, many: yes}
""",
    "room": """
sort: room
attributes:
  kind: {type: term, of: room_kind, example: "kind: kitchen"}
  length: {type: length, least: 0 in, most: 1000 ft, aliases: [run]}
""",
    "part": """
sort: part
attributes:
  kind: {type: term, of: part_kind, example: "kind: door"}
  room: {type: ref, to: room, ask: "Where is {{ id }}?"}
  in: {type: ref, to: part}
  on: {type: ref, to: part, many: yes, ask: "What does {{ id }} stand on?"}
  new: {type: yes_no, ask: "Is {{ id }} new?"}
  color: {type: text}
  material: {type: term, of: material, aliases: [made of], ask: "What is {{ id }} made of?"}
  uses: {type: term, of: use, many: yes}
  coating:
    type: term
    of: coating
    ask: "What is on {{ id }}?"
    presume:
      - {value: varnish, for: floor, unless: {new: yes}, because: old floors are varnished}
      - {value: paint, for: [wood part], unless: {new: yes, material: metal, uses: outdoors}, because: may be old paint}
  weight: {type: mass, least: 0 lb, most: 1000 lb}
  places: {type: length, many: yes, least: 0 in}
  drops: {type: profile}
""",
    "product": """
sort: product
attributes:
  kind: {type: term, of: product_kind, example: "kind: primer"}
  amount: {type: liquid, least: 0 gal, most: 100 gal}
""",
    "step": """
sort: step
attributes:
  do: {type: term, of: action, example: "do: sand"}
  to: {type: ref, to: part, many: yes}
  using: {type: ref, to: product, many: yes}
  in: {type: ref, to: room, ask: "Where is {{ id }} done?"}
  after: {type: ref, to: step, many: yes}
  with: {type: term, of: tool, many: yes}
  for: {type: time, least: 0 h, most: 2000 h, aliases: [takes]}
  temperature: {type: temperature}
  wet: {type: yes_no, ask: "Is {{ id }} wet?", presume: {value: no, for: abrade, because: most sanding is dry}}
""",
}
_TERMS = {
    "animal": "{dog: {}, bird: {}, none: {}}",
    "room_kind": "{kitchen: {}, garage: {}}",
    "part_kind": "{wood part: {}, door: {is: wood part, aliases: [cabinet door]}, floor: {is: wood part}, sink: {}}",
    "material": "{wood: {}, pine: {is: wood}, metal: {}, steel: {is: metal}}",
    "use": "{outdoors: {}, food: {}}",
    "coating": "{paint: {}, varnish: {}, bare: {}}",
    "product_kind": "{primer: {}, varnish: {}}",
    "action": "{abrade: {}, sand: {is: abrade, aliases: [rub down]}, prove dead: {}, paint: {}, prime: {}}",
    "tool": "{sander: {}, brush: {aliases: [paint brush]}, clamp: {}}",
}


@lru_cache(maxsize=1)
def small_vocabulary() -> Vocabulary:
    """The vocabulary above, read as the real one is."""
    with tempfile.TemporaryDirectory() as folder:
        for name, text in _FILES.items():
            (Path(folder) / f"{name}.yaml").write_text(text, encoding="utf-8")
        for name, terms in _TERMS.items():
            (Path(folder) / f"t_{name}.yaml").write_text(f"taxonomy: {name}\nterms: {terms}\n", encoding="utf-8")
        return load_vocabulary([Path(folder)])


PLAIN = {"parts": {"door": {"kind": "door"}}, "steps": [{"do": "sand", "to": "door"}]}


def read(source: Any, name: str | None = None) -> Plan:
    """The plan under the small vocabulary."""
    return read_plan(source, small_vocabulary(), name)


def mistakes(source: Any, name: str | None = "plan") -> list[str]:
    """The lines in which a plan is refused."""
    with pytest.raises(InputError) as caught:
        read(source, name)
    return str(caught.value).splitlines()


def part(**said: Any) -> dict[str, Any]:
    """The plain values of one door of which this is said."""
    plan = read({**PLAIN, "parts": {"door": {"kind": "door", **said}}})
    return {name: value.plain for name, value in plan.entities["part"]["door"].values.items()}


def ids(*steps: dict[str, Any]) -> list[str]:
    """The ids of the steps in the plan's order."""
    return [step.id for step in read({"steps": list(steps)}).steps]
