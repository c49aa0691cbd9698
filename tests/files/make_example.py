"""Writes the worked example, src/record/example.spraytest.txt. All of it is invented: a gate maker choosing an undercoat; grey
and buff on three panels each, white on a single one. Solvent leaves by a few exponential terms that run faster in the sun. The
scale shows steps of 0.1 g, drifts slowly and jumps once; one digit is mistyped; the gauge reads the film that is there.
Run with: python3 tests/files/make_example.py > src/record/example.spraytest.txt"""

import json
import math
import random
from datetime import datetime, timedelta, timezone

random.seed(7)
ZONE = timezone(timedelta(hours=1))
START = datetime(2026, 3, 2, 8, 10, tzinfo=ZONE)
TEETH = [50, 75, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500]
SIDE_MM = 300.0
AREA_CM2 = SIDE_MM * SIDE_MM / 100.0
STEEL_UM = 6.0  # what the gauge shows on the bare, sanded steel
FLASH_MIN = 20
APART_MIN = 6  # from panel to panel
SUN_H = 168.0  # carried into the sun a week after spraying
JUMP_H, JUMP_G = 230.0, 1.2  # the scale was knocked between the visits of day 9 and day 10
SLIP = ("G2", "r8")  # 3 g too much: 8 typed for 5
GAUGE_H = [96, 336]
AGES_H = [0.5, 1, 4, 8, 24, 48, 72, 96, 120, 144, 168, 192, 216, 240, 288, 336]

REDUCER = {"label": "Reducer", "role": "reducer", "grade": "standard", "density": 0.87, "voc": 870, "pack_l": 5, "price": 46, "air_c": [15, 25]}
HARDENER = {"label": "Hardener", "role": "hardener", "grade": "", "density": 1.02, "voc": 480, "pack_l": 1, "price": 29, "air_c": []}

# Parts are by volume: base, hardener, reducer. `solids` is by weight; `dry` is the density of the dry film, g/mL; `film` the
# wet film in all, µm; each term a share of the solvent and the hours in which two thirds of it leave.
CANDIDATES = {
    "grey": {"label": "Grey undercoat", "letter": "G", "panels": 3, "parts": [4, 1, 0.5], "base": 1.46, "solids": 0.665, "dry": 1.90,
             "film": 212, "terms": [(0.30, 0.8), (0.26, 5.0), (0.20, 40.0), (0.16, 190.0), (0.08, 1000.0)], "price": 78, "pot": 120,
             "notes": "Sands to powder after a week; clogs the paper on day 3."},
    "buff": {"label": "Buff undercoat", "letter": "B", "panels": 3, "parts": [4, 1, 0.5], "base": 1.64, "solids": 0.735, "dry": 2.02,
             "film": 205, "terms": [(0.42, 0.6), (0.36, 3.5), (0.16, 18.0), (0.06, 70.0)], "price": 124, "pot": 90,
             "notes": "Sands to powder on day 3."},
    "white": {"label": "White undercoat", "letter": "W", "panels": 1, "parts": [5, 1, 1], "base": 1.52, "solids": 0.690, "dry": 1.95,
              "film": 198, "terms": [(0.38, 0.7), (0.30, 4.0), (0.18, 26.0), (0.14, 120.0)], "price": 84, "pot": 100,
              "notes": "A sample tin, enough for one panel."},
}


def mixed(primer, component):
    """Mean over the components of a mix by volume."""
    return sum(part * component(i) for i, part in enumerate(primer["parts"])) / sum(primer["parts"])


for primer in CANDIDATES.values():
    density = mixed(primer, lambda i: [primer["base"], HARDENER["density"], REDUCER["density"]][i])
    volume = density * primer["solids"] / primer["dry"]
    voc = 1000.0 * density * (1 - primer["solids"])
    others = primer["parts"][1] * HARDENER["voc"] + primer["parts"][2] * REDUCER["voc"]
    primer.update(density=density, volume=volume, voc=voc, solvent=voc / 1000.0 / (1 - volume),
                  base_voc=(voc * sum(primer["parts"]) - others) / primer["parts"][0])


def said(moment):
    return moment.isoformat()


def left(terms, hours):
    """Share of the solvent still there after so many hours since the wet weight."""
    effective = hours if hours <= SUN_H else SUN_H + 5.0 * (hours - SUN_H)
    return sum(share * math.exp(-effective / time) for share, time in terms)


def scale_off(hours):
    """What the scale shows too much, g."""
    return 0.06 * math.sin(hours / 90.0) + 0.0004 * hours + (JUMP_G if hours > JUMP_H else 0.0)


def shown(grams):
    return round(round((grams + random.gauss(0, 0.05)) / 0.1) * 0.1, 1)


def dab(film):
    local = random.gauss(film, 0.05 * film)
    wetted = max([0] + [t for t in TEETH if t < local])
    return wetted, min(t for t in TEETH if t > wetted)


def gauged(film):
    """Three readings close together, with the steel under them."""
    return [round(random.gauss(film + STEEL_UM, 1.0)) for _ in range(3)]


# Spray day: a cup is mixed, stands, and its panels get two coats each, one panel after the other.
sprayed, cups = {}, []
moment = START + timedelta(minutes=55)
for key, primer in CANDIDATES.items():
    cup = {"id": f"cup-{key}", "candidate": key, "at": said(moment)}
    amount_ml = 120.0 + 90.0 * primer["panels"]
    densities = [primer["base"], HARDENER["density"], REDUCER["density"]]
    cup["poured_g"] = [round(amount_ml * part / sum(primer["parts"]) * density + random.gauss(0, 0.1), 1)
                       for part, density in zip(primer["parts"], densities)]
    primer["amount_ml"] = amount_ml
    cups.append(cup)
    moment += timedelta(minutes=12)
    for n in range(primer["panels"]):
        first = moment + timedelta(minutes=APART_MIN * n)
        sprayed[f"{primer['letter']}{n + 1}"] = (key, first, first + timedelta(minutes=FLASH_MIN))
    moment += timedelta(minutes=APART_MIN * primer["panels"] + FLASH_MIN + 12)
base = moment


def wet_at(label):
    return sprayed[label][2] + timedelta(minutes=4)


# While the last candidate stands, those sprayed already are weighed a first time.
rounds = [{"id": "r0", "at": said(wet_at("B3") + timedelta(minutes=8)), "place": "Shop", "balance": "scale"}]
for i, age in enumerate(AGES_H):
    at = base + timedelta(hours=age)
    if age >= 24:
        at = at.replace(hour=7, minute=40)
    rounds.append({"id": f"r{i + 1}", "at": said(at), "place": "Sun" if age > SUN_H else "Shop", "balance": "scale"})
    if age > SUN_H:
        rounds[-1]["cooled"] = True

panels = []
for number, (label, (key, first, second)) in enumerate(sprayed.items()):
    primer, name = CANDIDATES[key], label.lower()
    film = random.gauss(primer["film"], 6.0)
    bare_g = random.gauss(565.0, 2.5)
    wet_g = film * AREA_CM2 * primer["density"] / 1e4
    solvent_g = wet_g * (1 - primer["solids"])
    panel = {
        "id": name, "label": label, "candidate": key, "mix": f"cup-{key}", "rack": str(number + 1),
        "width_mm": SIDE_MM, "length_mm": SIDE_MM, "thickness_mm": 0.8, "coated_cm2": AREA_CM2,
        "bare": [{"id": f"{name}-bare", "at": said(START + timedelta(minutes=20 + number)), "gross_g": shown(bare_g), "balance": "scale"}],
        "coats": [{"id": f"{name}-coat1", "at": said(first)}, {"id": f"{name}-coat2", "at": said(second)}],
        "dabs": [], "weigh_ins": [], "spots": [],
    }
    for n, place in enumerate(["top", "middle", "bottom"]):
        wetted, dry = dab(film)
        panel["dabs"].append({"id": f"{name}-dab{n + 1}", "at": said(second + timedelta(minutes=1)), "comb": "comb",
                              "wetted_um": wetted, "dry_um": dry, "place": place})
    panel["weigh_ins"].append({"id": f"{name}-wet", "at": said(wet_at(label)), "balance": "scale", "gross_g": shown(bare_g + wet_g)})
    for entry in rounds:
        at = datetime.fromisoformat(entry["at"]) + timedelta(minutes=1 + number)
        hours = (at - wet_at(label)).total_seconds() / 3600
        if hours < 0:
            continue
        gross = shown(bare_g + wet_g - solvent_g * (1 - left(primer["terms"], hours)) + scale_off(hours))
        if (label, entry["id"]) == SLIP:
            gross = round(gross + 3.0, 1)
        panel["weigh_ins"].append({"id": f"{name}-{entry['id']}", "at": said(at), "round": entry["id"], "gross_g": gross})
    thickness = {place: random.gauss(1.0, 0.02) for place in ["top", "middle", "bottom"]}
    for age in GAUGE_H:
        at = base.replace(hour=8, minute=5) + timedelta(hours=age, minutes=3 * number)
        hours = (at - wet_at(label)).total_seconds() / 3600
        dry_film = film * (primer["volume"] + (1 - primer["volume"]) * left(primer["terms"], hours))
        for place, share in thickness.items():
            panel["spots"].append({"id": f"{name}-{place}-{age}", "at": said(at), "place": place, "edge_mm": 40, "readings_um": gauged(share * dry_film)})
    panels.append(panel)

blank_g = 561.4
blank = {"id": "blank", "label": "Blank", "place": "with the panels", "balance": "scale", "weigh_ins": [
    {"id": "blank-bare", "at": said(START + timedelta(minutes=18)), "balance": "scale", "gross_g": shown(blank_g)}]}
for entry in rounds:
    hours = (datetime.fromisoformat(entry["at"]) - base).total_seconds() / 3600
    blank["weigh_ins"].append({"id": f"blank-{entry['id']}", "at": entry["at"], "round": entry["id"], "gross_g": shown(blank_g + scale_off(hours))})


def component(key, n, of, part):
    made = {"id": f"{key}-{of['role']}", "label": of["label"], "role": of["role"], "parts": part, "density_g_per_ml": of["density"],
            "voc_g_per_l": round(of["voc"]), "water_by_weight": 0, "exempt_by_weight": 0, "pack_l": of["pack_l"], "pack_price": of["price"]}
    made["batch"] = f"{key[0].upper()}{n + 1}-0126"
    if of["grade"]:
        made["grade"] = of["grade"]
    if of["air_c"]:
        made["air_c"] = of["air_c"]
    return made


def candidate(key, primer):
    paint = {"label": "Base", "role": "base", "grade": "", "density": primer["base"], "voc": primer["base_voc"], "pack_l": 4,
             "price": primer["price"], "air_c": []}
    wet_um = 5 * round(primer["film"] / 2 / 5)
    return {
        "id": key, "label": primer["label"], "notes": primer["notes"],
        "mix": {"basis": "volume", "amount_ml": primer["amount_ml"],
                "components": [component(key, n, of, part) for n, (of, part) in enumerate(zip([paint, HARDENER, REDUCER], primer["parts"]))]},
        "sheet": {"stated_for": "mix", "solids_by_weight": primer["solids"], "solids_by_volume": round(primer["volume"], 3),
                  "density_g_per_ml": round(primer["density"], 3), "solvent_density_g_per_ml": round(primer["solvent"], 3),
                  "dry_density_g_per_ml": primer["dry"], "voc_g_per_l": round(primer["voc"]), "standing_min": 10,
                  "pot_life_min": primer["pot"], "flash_min": 15, "coats": 2, "wet_film_um": wet_um,
                  "dry_film_um": round(wet_um * primer["volume"]), "sanding_h": 72, "recoat_h": 24, "air_c": [12, 30]},
        "gun": {"tip_mm": 1.6, "pressure_kpa": 200, "passes": 2, "note": "Fan 3/4 open, 20 cm from the panel."},
    }


last_in_shop = max(entry["at"] for entry in rounds if entry["place"] == "Shop")
move_at = datetime.fromisoformat(last_in_shop) + timedelta(minutes=20)
gauge_days = [base.replace(hour=8, minute=0) + timedelta(hours=age) for age in GAUGE_H]
record = {
    "format": "spray-test", "version": 1, "id": "worked-example", "title": "Gate undercoats", "created": said(START),
    "painter": "The gate maker", "shop": "An invented shop", "metal": "Cold-rolled steel, 0.8 mm", "preparation": "Sanded P180, degreased",
    "invented": True,
    "units": {"film": "um", "length": "mm", "mass": "g", "volume": "ml", "temperature": "c"}, "currency": "EUR",
    "wanted": {"dry_build_um": 80, "sanding_h": 72, "sanding_loss_um": 10, "transfer_efficiency": 0.6, "overspray_mm": 30,
               "left_in_gun_ml": 40, "spray_at": said(START)},
    "hours": {"from_h": 7, "to_h": 20},
    "order": {"seed": "gates", "candidates": list(CANDIDATES)},
    "schedule": [{"id": f"due{i + 1}", "due_h": age} for i, age in enumerate(AGES_H)],
    "balances": [{"id": "scale", "label": "Shop scale", "division_g": 0.1, "repeats_g": [shown(blank_g) for _ in range(10)]}],
    "combs": [{"id": "comb", "label": "Comb", "edges": [{"id": "edge", "teeth_um": TEETH}]}],
    "dry_gauge": {"calibration_um": 1.0, "base_metal_um": [round(random.gauss(STEEL_UM, 0.8), 1) for _ in range(10)]},
    "verifications": [{"id": f"shim{i + 1}", "at": said(at), "shim_um": 102, "reading_um": round(random.gauss(102, 1.0))} for i, at in enumerate(gauge_days)],
    "candidates": [candidate(key, primer) for key, primer in CANDIDATES.items()],
    "mixes": cups, "panels": panels, "blanks": [blank], "rounds": rounds,
    "moves": [{"id": "into-sun", "at": said(move_at), "to": "Sun", "warmer": True}],
    "air": [{"id": "air1", "at": said(START), "air_c": 19, "humidity_pct": 52, "panel_c": 18}],
    "notes": [{"id": "note1", "at": said(START), "text": "Invented, to show the page: a gate maker choosing an undercoat."}],
}
print(json.dumps(record, indent=1))
