"""What there is to say of a doorway beyond the reference doorway's file: all of it."""

from collections.abc import Callable
from typing import Any

Table = dict[str, Any]
Change = Callable[[Table, dict[str, Table]], None]

DOOR: Table = {
    "modes": ["automatic"],
    "mode_switch": "key or code",
    "leaves": {
        "mass": "60 kg",
        "glass": "10 mm",
        "width": "1050 mm",
        "height": "2150 mm",
        "travel": "1000 mm",
    },
    "motion": {
        "opening_speed": "0.5 m/s",
        "closing_speed": "0.25 m/s",
        "opening_acceleration": "1 m/s²",
        "closing_acceleration": "0.6 m/s²",
        "start_delay": "0.1 s",
        "reversal_delay": "0.1 s",
        "braking": "1.5 m/s²",
        "slow_zone": "0 mm",
        "slow_speed": "0.05 m/s",
        "opening_time": "2.4 s",
        "closing_time": "4.5 s",
        "opening_runs": ["2.4 s", "2.4 s", "2.5 s"],
        "closing_runs": ["4.5 s", "4.5 s", "4.6 s"],
        "time_to_most": "2 s",
        "hold_open": "3 s",
        "closing_energy": "1.5 J",
    },
    "impact": [
        {
            "gap": "300 mm",
            "peak": "90 N",
            "after": "60 N",
            "rest": "30 N",
            "instrument": "Force gauge 7",
            "calibrated": "2027-03-01",
            "measured": "2026-11-02",
        }
    ],
    "power_loss": {
        "does": "opens",
        "by": "battery",
        "hand_force": "60 N",
        "tried": "2026-11-02",
    },
    "mechanics": dict.fromkeys(
        (
            "runs_freely",
            "rollers",
            "floor_guide",
            "drive",
            "stops",
            "lock",
            "glass",
            "fixing",
        ),
        "in order",
    ),
    "operator": {
        "inputs": [
            {
                "name": "opening",
                "does": "opening",
                "kinds": ["semiconductor", "relay"],
                "rests": "open",
                "monitored": False,
                "fails_to": "ignored",
            },
            {
                "name": "closing protection",
                "does": "closing protection",
                "kinds": ["semiconductor"],
                "rests": "closed",
                "monitored": True,
                "fails_to": "open door",
            },
        ],
        "supply": "24 V",
        "current": "1 A",
        "reacts_in": "0.05 s",
        "tests_before_closing": True,
    },
    "document": [
        {
            "about": "performance level",
            "function": function,
            "level": "d",
            "title": f"Letter about {function}",
            "dated": "2024-05-01",
        }
        for function in ("presence", "escape opening", "operator", "door")
    ],
    "exposure": {
        "outside": "sheltered",
        "inside": "indoors",
        "coldest": "-10 °C",
        "hottest": "35 °C",
        "windy": False,
    },
    "marking": {
        "glass": "marked",
        "lowest": "900 mm",
        "highest": "1500 mm",
        "signs": ["Automatic door"],
    },
    "use": {
        "escape_route": False,
        "escape_from": [],
        "breaks_out": False,
        "many_frail_or_small": True,
        "public": True,
        "groups": [],
        "fastest": "1.2 m/s",
    },
    "approach": [
        {"side": side, "from_left": "60 deg", "from_right": "60 deg", "starts": "4 m"}
        for side in ("outside", "inside")
    ],
}
FITTING: Table = {
    "settings": {
        "radar_tilt": "30 deg",
        "radar_yaw": "0 deg",
        "reach": "100 %",
        "hold": "60 s",
    },
    "read": {"lit_ahead": ["1900 mm", "1950 mm", "1900 mm"], "lit_speed": "1 m/s"},
    "cable": {
        "length": "5 m",
        "area": "0.25 mm²",
        "hottest": "40 °C",
        "loop": "0.8 ohm",
        "drip_loop": True,
    },
    "covered": True,
}
SHEET: Table = {
    "motion": {
        "lobe": {"across": "70 deg", "ahead": "35 deg"},
        "field_for": "adult",
        "spread": "20 %",
        "least_speed": "0.1 m/s",
        "reach_law": "field",
    },
    "supply": {
        "least": "17 V",
        "most": "30 V",
        "current": "0.12 A",
        "power": "3 W",
        "alternating": False,
    },
    "environment": {
        "outdoors": True,
        "sealing": "IP54",
        "coldest": "-25 °C",
        "hottest": "55 °C",
    },
}


def _single(door: Table, sheets: dict[str, Table]) -> None:
    door["leaves"] |= {"kind": "single", "hand": "left", "travel": "2000 mm"}
    door["leaves"]["width"] = "2050 mm"
    door["motion"] |= {
        "opening_time": "4.4 s",
        "closing_time": "8.5 s",
        "opening_runs": ["4.4 s", "4.4 s", "4.5 s"],
        "closing_runs": ["8.5 s", "8.5 s", "8.6 s"],
        "time_to_most": "3.6 s",
    }


def _telescopic(door: Table, sheets: dict[str, Table]) -> None:
    door["leaves"]["planes"] = ["22 mm", "-22 mm"]


def _reduced(door: Table, sheets: dict[str, Table]) -> None:
    door["modes"] = ["automatic", "reduced"]
    door["reduced_width"] = "1200 mm"


def _escape(door: Table, sheets: dict[str, Table]) -> None:
    door["use"] |= {"escape_route": True, "escape_from": ["inside"]}


def _hardy(door: Table, sheets: dict[str, Table]) -> None:
    door["use"]["many_frail_or_small"] = False


def _open_weather(door: Table, sheets: dict[str, Table]) -> None:
    door["exposure"] |= {"outside": "open", "windy": True}


def _stand(door: Table, sheets: dict[str, Table]) -> None:
    door["thing"] = [
        {
            "name": "stand",
            "side": "inside",
            "along": "1500 mm",
            "out": "900 mm",
            "width": "300 mm",
            "depth": "300 mm",
            "height": "1200 mm",
            "moves": True,
        }
    ]


def _facing(door: Table, sheets: dict[str, Table]) -> None:
    door["facing"] = [
        {"doorway": "other", "side": "inside", "distance": "2 m", "shift": "0 mm"}
    ]


def _barrier(door: Table, sheets: dict[str, Table]) -> None:
    door["fitting"].append(
        {
            "id": "barrier",
            "sheet": "barrier",
            "side": "inside",
            "place": "posts",
            "beams": [{"height": "200 mm", "from_leaf": "30 mm"}],
            "wires": [
                {
                    "output": "presence",
                    "to": "closing protection",
                    "test_enabled": True,
                }
            ],
        }
    )


def _radar(door: Table, sheets: dict[str, Table]) -> None:
    door["fitting"].append(
        {
            "id": "radar",
            "sheet": "radar",
            "side": "outside",
            "lens": {"along": "0 mm", "from_leaf": "130 mm", "height": "2300 mm"},
            "settings": {"radar_tilt": "30 deg", "radar_yaw": "0 deg", "reach": "80 %"},
            "wires": [{"output": "opening", "to": "opening"}],
        }
    )


def _no_fan(door: Table, sheets: dict[str, Table]) -> None:
    sheets["unit-a"]["presence"]["fan"] = {"form": "unknown"}


def _angles(door: Table, sheets: dict[str, Table]) -> None:
    sheets["unit-b"]["presence"]["fan"] = {
        "form": "angles",
        "choices": {"wide": "28 deg"},
        "spacing": "equal in angle",
    }


def _by_distance(door: Table, sheets: dict[str, Table]) -> None:
    sheets["unit-a"]["presence"]["decides_by"] = "distance"


def _one_side(door: Table, sheets: dict[str, Table]) -> None:
    del door["fitting"][1]


def _nothing(door: Table, sheets: dict[str, Table]) -> None:
    door["fitting"] = []


def _read(door: Table, sheets: dict[str, Table]) -> None:
    for fitting in door["fitting"]:
        if fitting["sheet"].startswith("unit"):
            fitting["read"] |= {
                "first_row": "64 mm",
                "left_end": "-1150 mm",
                "right_end": "1150 mm",
            }


def _one_channel(door: Table, sheets: dict[str, Table]) -> None:
    for fitting in door["fitting"]:
        fitting["settings"]["channel"] = 1


VARIETY: tuple[tuple[float, Change], ...] = (
    (0.3, _single),
    (0.1, _telescopic),
    (0.3, _reduced),
    (0.3, _escape),
    (0.3, _hardy),
    (0.2, _open_weather),
    (0.25, _stand),
    (0.15, _facing),
    (0.2, _one_channel),
    (0.2, _read),
    (0.2, _no_fan),
    (0.2, _angles),
    (0.2, _by_distance),
    (0.1, _one_side),
    (0.05, _nothing),
    (0.2, _barrier),
    (0.2, _radar),
)
"""What may be otherwise, and how often."""
