"""Writes the worked example, src/record/example.spraytest.txt. All of it is invented: a gate maker, two undercoats, three
panels each. The drying is drawn from a few exponential terms that run faster in the sun, read on a scale of 0.1 g with a
slow drift, and one slip of a digit. Run with: python3 tests/files/make_example.py > src/record/example.spraytest.txt"""

import json
import math
import random
from datetime import datetime, timedelta, timezone

random.seed(20260302)
ZONE = timezone(timedelta(hours=1))
START = datetime(2026, 3, 2, 8, 10, tzinfo=ZONE)
TEETH = [50, 75, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500]
AREA_CM2 = 900.0
SUN_H = 168.0  # carried into the sun a week after spraying
AGES_H = [0.5, 1, 4, 8, 24, 48, 72, 96, 120, 144, 168, 192, 216, 240, 288, 336]
HOURS = {0.5: 0.5, 1: 1.0, 4: 4.0, 8: 8.0}

CANDIDATES = {
    "grey": {"label": "Grey undercoat", "density": 1.32, "solids": 0.665, "volume": 0.46, "dry": 1.90, "film": 212,
             "terms": [(0.30, 0.8), (0.26, 5.0), (0.20, 40.0), (0.16, 190.0), (0.08, 800.0)], "letter": "G"},
    "buff": {"label": "Buff undercoat", "density": 1.46, "solids": 0.735, "volume": 0.53, "dry": 2.02, "film": 205,
             "terms": [(0.42, 0.6), (0.36, 3.5), (0.16, 18.0), (0.06, 70.0)], "letter": "B"},
}


def said(moment):
    return moment.isoformat()


def left(terms, hours):
    """Share of the solvent still there after so many hours since the wet weight."""
    effective = hours if hours <= SUN_H else SUN_H + 5.0 * (hours - SUN_H)
    return sum(share * math.exp(-effective / time) for share, time in terms)


def drift(hours):
    return 0.06 * math.sin(hours / 90.0) + 0.0004 * hours


def shown(grams):
    return round(round((grams + random.gauss(0, 0.05)) / 0.1) * 0.1, 1)


def dab(film):
    local = random.gauss(film, 0.05 * film)
    wetted = max([0] + [t for t in TEETH if t < local])
    return wetted, min(t for t in TEETH if t > wetted)


rounds, panels = [], []
blank = {"id": "blank", "label": "Blank", "weigh_ins": []}
blank_g = 561.4
sprayed = {}
moment = START + timedelta(minutes=95)
for key, primer in CANDIDATES.items():
    for n in (1, 2, 3):
        sprayed[f"{primer['letter']}{n}"] = (key, moment)
        moment += timedelta(minutes=6)
    moment += timedelta(minutes=22)
base = moment

for i, age in enumerate(AGES_H):
    place = "Sun" if age > SUN_H else "Shop"
    at = base + timedelta(hours=age)
    if age >= 24:
        at = at.replace(hour=7, minute=40)
    rounds.append({"id": f"r{i + 1}", "at": said(at), "place": place, "balance": "scale"})

for label, (key, wet_at) in sprayed.items():
    primer = CANDIDATES[key]
    film = random.gauss(primer["film"], 6.0)
    bare_g = random.gauss(565.0, 2.5)
    wet_g = film * AREA_CM2 * primer["density"] / 1e4
    solvent_g = wet_g * (1 - primer["solids"])
    panel = {
        "id": label.lower(), "label": label, "candidate": key, "width_mm": 300, "length_mm": 300, "coated_cm2": AREA_CM2,
        "bare": [{"id": f"{label.lower()}-bare", "at": said(START), "gross_g": shown(bare_g), "balance": "scale"}],
        "coats": [{"id": f"{label.lower()}-coat{n}", "at": said(wet_at - timedelta(minutes=back))} for n, back in ((1, 24), (2, 4))],
        "dabs": [], "weigh_ins": [],
    }
    for n, place in enumerate(["top", "middle", "bottom"]):
        wetted, dry = dab(film)
        panel["dabs"].append({"id": f"{label.lower()}-dab{n + 1}", "at": said(wet_at - timedelta(minutes=3)), "comb": "comb",
                              "wetted_um": wetted, "dry_um": dry, "place": place})
    panel["weigh_ins"].append({"id": f"{label.lower()}-wet", "at": said(wet_at), "balance": "scale", "gross_g": shown(bare_g + wet_g)})
    for entry in rounds:
        at = datetime.fromisoformat(entry["at"]) + timedelta(minutes=1 + list(sprayed).index(label))
        hours = (at - wet_at).total_seconds() / 3600
        gross = shown(bare_g + wet_g - solvent_g * (1 - left(primer["terms"], hours)) + drift(hours))
        if (label, entry["id"]) == ("G2", "r8"):
            gross = round(gross + 3.0, 1)  # 8 typed for 5
        panel["weigh_ins"].append({"id": f"{label.lower()}-{entry['id']}", "at": said(at), "round": entry["id"], "gross_g": gross})
    panels.append(panel)

blank["weigh_ins"].append({"id": "blank-wet", "at": said(base - timedelta(minutes=70)), "balance": "scale", "gross_g": shown(blank_g)})
for entry in rounds:
    hours = (datetime.fromisoformat(entry["at"]) - base).total_seconds() / 3600
    blank["weigh_ins"].append({"id": f"blank-{entry['id']}", "at": entry["at"], "round": entry["id"], "gross_g": shown(blank_g + drift(hours))})

move_at = datetime.fromisoformat(rounds[AGES_H.index(168)]["at"]) + timedelta(minutes=20)
record = {
    "format": "spray-test", "version": 1, "id": "worked-example", "title": "Gate undercoats", "created": said(START),
    "invented": True,
    "units": {"film": "um", "length": "mm", "mass": "g", "volume": "ml", "temperature": "c"}, "currency": "EUR",
    "wanted": {"dry_build_um": 80, "sanding_h": 72},
    "balances": [{"id": "scale", "label": "Shop scale", "division_g": 0.1}],
    "combs": [{"id": "comb", "label": "Comb", "edges": [{"id": "edge", "teeth_um": TEETH}]}],
    "candidates": [
        {"id": key, "label": primer["label"],
         "sheet": {"stated_for": "mix", "solids_by_weight": primer["solids"], "solids_by_volume": primer["volume"],
                   "density_g_per_ml": primer["density"], "dry_density_g_per_ml": primer["dry"], "coats": 2, "sanding_h": 72}}
        for key, primer in CANDIDATES.items()
    ],
    "panels": panels, "blanks": [blank], "rounds": rounds,
    "moves": [{"id": "into-sun", "at": said(move_at), "to": "Sun", "warmer": True}],
    "air": [{"id": "air1", "at": said(START), "air_c": 19, "humidity_pct": 52, "panel_c": 18}],
    "notes": [{"id": "note1", "at": said(START), "text": "Invented, to show the page: a gate maker choosing an undercoat."}],
}
print(json.dumps(record, indent=1))
