//! What each action does to a test.

use super::{Action, Dated, PartOfMix, Refused, Slot};
use crate::address::{Address, Owner};
use crate::bounds::MOST_VALUES;
use crate::codec::{Entries, Entry, Full, Ref};
use crate::model::{
    Air, Balance, BareWeight, Blank, Candidate, Coat, Comb, Component, Dab, DoneBefore, Due, Edge, Leaving, Mixed,
    Move, Panel, Round, SetAside, Skipped, Spot, SprayTest, Verification, WeighIn,
};
use crate::stamp::{Id, Stamp};
use quantity::{Hours, Instant};

/// Does one action on a test, and nothing else: no clock, no chance, no stamps.
///
/// # Errors
/// [`Refused`] when the action cannot be done; the test is unchanged then.
///
/// ```
/// use record::{Action, Phrase, SprayTest, update};
/// let mut test = SprayTest::begin("t1".into(), "2026-03-02T08:10:00+01:00".parse().unwrap());
/// update(&mut test, Action::Write(Phrase::Title, "Gate undercoats".into())).unwrap();
/// assert_eq!(test.title, "Gate undercoats");
/// ```
pub fn update(test: &mut SprayTest, action: Action) -> Result<(), Refused> {
    match action {
        Action::Fill(slot, value) => {
            slot.fill(test, value).ok_or(Refused::Gone)?.map_err(Refused::OutOfBounds)?;
            // What was vouched for is the weight that stood there.
            if let Slot::WeighIn(owner, weigh_in) = &slot
                && let Some(weigh_in) = weigh_ins_mut(test, owner)?.find_mut(weigh_in)
            {
                weigh_in.vouched = false;
                *weigh_in.exchanged_with = None;
            }
        }
        Action::List(_, values) if values.len() > MOST_VALUES => {
            let over = values.len() - MOST_VALUES;
            return Err(Refused::Full(Full { list: "numbers", most: MOST_VALUES, over }));
        }
        Action::List(row, values) => {
            row.fill(test, &values).ok_or(Refused::Gone)?.map_err(Refused::OutOfBounds)?;
        }
        Action::Choose(pick) => pick.make(test).ok_or(Refused::Gone)?,
        Action::Write(phrase, text) => *phrase.text_mut(test).ok_or(Refused::Gone)? = text,
        Action::AddCandidate { id, label, panels } => {
            for label in panels {
                add_panel(test, id.clone(), label);
            }
            test.candidates.push(Candidate { id, label, ..Candidate::default() });
        }
        Action::AddPanel { candidate, label } => add_panel(test, candidate, label),
        Action::AddBlank { label } => test.blanks.push(Blank { label, ..Blank::default() }),
        Action::AddBalance { label, division_g } => {
            test.balances.push(Balance { label, division_g: Some(division_g), ..Balance::default() });
        }
        Action::AddComb { label, teeth_um } => {
            let mut comb = Comb { label, ..Comb::default() };
            comb.edges.push(Edge { teeth_um, ..Edge::default() });
            test.combs.push(comb);
        }
        Action::AddComponent { candidate, label, role } => {
            let components = &mut test.candidates.find_mut(&candidate).ok_or(Refused::Gone)?.mix.components;
            components.push(Component { label, role: Some(role), ..Component::default() });
        }
        Action::SetRatio { candidate, parts } => {
            let components = &mut test.candidates.find_mut(&candidate).ok_or(Refused::Gone)?.mix.components;
            for PartOfMix { component, label, role, parts } in parts {
                if let Some(component) = component {
                    let known = components.find_mut(&component).ok_or(Refused::Gone)?;
                    (known.parts, known.share) = (Some(parts), None);
                } else {
                    components.push(Component { label, role: Some(role), parts: Some(parts), ..Component::default() });
                }
            }
        }
        Action::Draw { seed, candidates, racks } => {
            (test.order.seed, test.order.candidates) = (seed, candidates.into());
            for (panel, rack) in racks {
                panel_mut(test, &panel)?.rack = rack;
            }
        }
        Action::Schedule(due) => schedule(test, due),
        Action::Pour { cup, candidate, aim_g, poured_g } => {
            test.mixes.push(Mixed { id: cup, candidate: candidate.into(), aim_g, poured_g, ..Mixed::default() });
        }
        Action::Mixed { cup, candidate, at, panels } => mixed(test, cup, candidate, at, &panels)?,
        Action::TakeAir { at, air_c, humidity_pct, panel_c } => {
            test.air.push(Air { at: Some(at), air_c, humidity_pct, panel_c, ..Air::default() });
        }
        Action::Skip { at, step, of } => {
            let blank = of.as_ref().is_some_and(|of| of.through("blanks").is_some());
            let of = of.and_then(|of| of.id().cloned());
            test.skipped.push(Skipped { at: Some(at), step: Some(step), of: of.into(), blank, ..Skipped::default() });
        }
        Action::WeighBare { panel, at, gross_g } => {
            let balance = first_balance(test);
            panel_mut(test, &panel)?.bare.push(BareWeight {
                at: Some(at),
                gross_g: Some(gross_g),
                balance,
                ..BareWeight::default()
            });
        }
        Action::Coat { panels, at } => {
            for panel in &panels {
                let after = newest_known(test, &Owner::Panel(panel.clone()));
                panel_mut(test, panel)?.coats.push(Coat { at: Some(at), after, ..Coat::default() });
            }
        }
        Action::Dab { panel, at, comb, wetted_um, touched_um, dry_um, place, instead_of } => {
            let (at, wetted_um, after) = (Some(at), Some(wetted_um), newest_known(test, &Owner::Panel(panel.clone())));
            let comb = comb.into();
            let dab = Dab { at, comb, wetted_um, touched_um, dry_um, place, after, ..Dab::default() };
            let dabs = &mut panel_mut(test, &panel)?.dabs;
            if let Some(instead_of) = instead_of {
                dabs.find_mut(&instead_of).ok_or(Refused::Gone)?.deleted = true;
            }
            dabs.push(dab);
        }
        Action::BeginRound { at, place } => {
            let balance = first_balance(test);
            test.rounds.push(Round { at: Some(at), place, balance, ..Round::default() });
        }
        Action::Weigh { owner, round, at, gross_g } => {
            // A weight of a round that was taken out would count in the curve and stand in no round.
            let of_round = round.as_ref().map(|id| test.rounds.find(id).ok_or(Refused::Gone)).transpose()?;
            let of_round = of_round.map(|round| round.balance.clone()).filter(|balance| balance.is_some());
            let balance = of_round.unwrap_or_else(|| first_balance(test));
            let (gross_g, after) = (Some(gross_g), newest_known(test, &owner));
            let weigh_in = WeighIn { at: Some(at), round: round.into(), balance, gross_g, after, ..WeighIn::default() };
            weigh_ins_mut(test, &owner)?.push(weigh_in);
        }
        Action::Carry { at, to, warmer, panels } => {
            let after = test.moves.kept().next_back().map(|newest| newest.id.clone()).into();
            test.moves.push(Move { at: Some(at), to, warmer, panels: panels.into(), after, ..Move::default() });
        }
        Action::CarryByDay { days, out, back, panels } => {
            for (at, to, warmer) in days.into_iter().flat_map(|[left, came]| [(left, &out, true), (came, &back, false)])
            {
                let (to, panels) = (to.clone(), panels.clone().into());
                test.moves.push(Move { at: Some(at), to, warmer, panels, ..Move::default() });
            }
        }
        Action::Verify { at, shim_um, reading_um } => test.verifications.push(Verification {
            at: Some(at),
            shim_um: Some(shim_um),
            reading_um: Some(reading_um),
            ..Verification::default()
        }),
        Action::Spot { id, panel, at, place, shim_um, readings_um } => {
            let spot = Spot { id, at: Some(at), place, shim_um, readings_um, ..Spot::default() };
            panel_mut(test, &panel)?.spots.push(spot);
        }
        Action::SetAside { owner, weigh_in, why } => set_aside(test, &owner, &weigh_in, why)?,
        Action::Leave { owner, round, at, why, weigh_in } => {
            if let Some(weigh_in) = weigh_in {
                set_aside(test, &owner, &weigh_in, why.clone())?;
            }
            let after = newest_known(test, &owner);
            let leaving = Leaving { at: Some(at), round: round.into(), why, after, ..Leaving::default() };
            owner.left_mut(test).ok_or(Refused::Gone)?.push(leaving);
        }
        // Two phones may both have noted it.
        Action::ComeBack(owner) => {
            let left = owner.left_mut(test).ok_or(Refused::Gone)?;
            left.kept_mut().for_each(|leaving| leaving.deleted = true);
        }
        Action::Exchange((one_owner, one), (other_owner, other)) => {
            let weight = |test: &mut SprayTest, owner: &Owner, id: &Id| {
                let weigh_in = weigh_ins_mut(test, owner)?.find_mut(id).ok_or(Refused::Gone)?;
                Ok::<_, Refused>((weigh_in.gross_g, weigh_in.repeats_g.clone()))
            };
            let (first, second) = (weight(test, &one_owner, &one)?, weight(test, &other_owner, &other)?);
            let (of_one, of_other) = (one_owner.panel().cloned(), other_owner.panel().cloned());
            for (owner, id, (gross_g, repeats_g), with) in
                [(one_owner, one, second, of_other), (other_owner, other, first, of_one)]
            {
                let weigh_in = weigh_ins_mut(test, &owner)?.find_mut(&id).ok_or(Refused::Gone)?;
                (weigh_in.gross_g, weigh_in.repeats_g) = (gross_g, repeats_g);
                // Exchanged once more, each is where it was read.
                let back = *weigh_in.exchanged_with == with;
                *weigh_in.exchanged_with = with.filter(|_| !back);
            }
        }
        Action::Vouch { owner, weigh_in } => {
            let weigh_in = weigh_ins_mut(test, &owner)?.find_mut(&weigh_in).ok_or(Refused::Gone)?;
            weigh_in.set_aside = None;
            weigh_in.vouched = true;
        }
        Action::Date(dated, at) => date(test, &dated, at)?,
        Action::Remove(address) => remove(test, &address)?,
        Action::RemoveRound(id) => {
            let mut weighed = false;
            for weigh_in in test.weigh_ins_in(&id) {
                weigh_in.deleted = true;
                weighed = true;
            }
            // Another phone may have taken the round out already, and not its weigh-ins.
            match test.entry_at(Address::round(&id).way()) {
                Ok(round) => round.set_deleted(true),
                Err(gone) if !weighed => return Err(gone),
                Err(_) => {}
            }
        }
        Action::BringBack(address) => bring_back(test, &address)?,
    }
    Ok(())
}

fn remove(test: &mut SprayTest, address: &Address) -> Result<(), Refused> {
    test.entry_at(address.way())?.set_deleted(true);
    if let [("candidates", id)] = address.way() {
        // Panels of a candidate that is gone would stand in no list.
        test.panels.kept_mut().filter(|panel| panel.candidate.as_ref() == Some(id)).for_each(|p| p.deleted = true);
    }
    Ok(())
}

fn bring_back(test: &mut SprayTest, address: &Address) -> Result<(), Refused> {
    let way = address.way();
    test.entry_at(way)?;
    for end in 1..=way.len() {
        test.entry_at(&way[..end])?.set_deleted(false);
    }
    // A panel without its candidate, or a weigh-in without its round, would stand in no list.
    let panel = address.through("panels").and_then(|id| test.panels.find(id));
    let blank = address.through("blanks").and_then(|id| test.blanks.find(id));
    let weigh_ins = panel.map(|panel| &panel.weigh_ins).or(blank.map(|blank| &blank.weigh_ins));
    let round = address.through("weigh_ins").and_then(|id| weigh_ins?.find(id)?.round.as_ref());
    let candidate = panel.and_then(|panel| panel.candidate.as_ref());
    let under = [candidate.map(Address::candidate), round.map(Address::round)];
    for under in under.into_iter().flatten() {
        if let Ok(entry) = test.entry_at(under.way()) {
            entry.set_deleted(false);
        }
    }
    Ok(())
}

fn set_aside(test: &mut SprayTest, owner: &Owner, weigh_in: &Id, why: String) -> Result<(), Refused> {
    let weigh_in = weigh_ins_mut(test, owner)?.find_mut(weigh_in).ok_or(Refused::Gone)?;
    weigh_in.set_aside = Some(SetAside { by: "person".into(), why, ..SetAside::default() });
    weigh_in.vouched = false;
    Ok(())
}

/// A panel of the same size as the one before: a test is cut from one sheet.
fn add_panel(test: &mut SprayTest, candidate: Id, label: String) {
    let like = test.panels.kept().next_back().cloned().unwrap_or_default();
    test.panels.push(Panel {
        label,
        candidate: candidate.into(),
        width_mm: like.width_mm,
        length_mm: like.length_mm,
        thickness_mm: like.thickness_mm,
        coated_cm2: like.coated_cm2,
        ..Panel::default()
    });
}

/// Sets the times to weigh; those that stay keep their entry.
fn schedule(test: &mut SprayTest, due: Vec<Hours>) {
    for entry in test.schedule.kept_mut() {
        entry.deleted = !due.iter().any(|due_h| entry.due_h == Some(*due_h));
    }
    for due_h in due {
        if !test.schedule.kept().any(|entry| entry.due_h == Some(due_h)) {
            test.schedule.push(Due { due_h: Some(due_h), ..Due::default() });
        }
    }
}

fn mixed(test: &mut SprayTest, cup: Id, candidate: Id, at: Instant, panels: &[Id]) -> Result<(), Refused> {
    match test.mixes.find_mut(&cup) {
        Some(known) => known.at = Some(at),
        None => {
            test.mixes.push(Mixed { id: cup.clone(), candidate: candidate.into(), at: Some(at), ..Mixed::default() });
        }
    }
    for panel in panels {
        panel_mut(test, panel)?.mix = cup.clone().into();
    }
    Ok(())
}

fn date(test: &mut SprayTest, dated: &Dated, at: Instant) -> Result<(), Refused> {
    let slot = match dated {
        Dated::Coats(coats) => return date_coats(test, coats, at),
        Dated::Round(id) => &mut test.rounds.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::Move(id) => &mut test.moves.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::WeighIn(owner, id) => &mut weigh_ins_mut(test, owner)?.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::Leaving(owner, id) => {
            let left = owner.left_mut(test).ok_or(Refused::Gone)?;
            &mut left.find_mut(id).ok_or(Refused::Gone)?.at
        }
        Dated::Spot(panel, id) => &mut panel_mut(test, panel)?.spots.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::Cup(id) => &mut test.mixes.find_mut(id).ok_or(Refused::Gone)?.at,
        Dated::SprayDay => &mut test.wanted.spray_at,
    };
    *slot = Some(at);
    if let Dated::Round(id) = dated {
        // The person says when the round was: its weigh-ins follow.
        test.weigh_ins_in(id).for_each(|weigh_in| weigh_in.at = Some(at));
    }
    Ok(())
}

/// Moves one coat of several panels so that the first of them had it at `at`: they keep the minutes between them.
fn date_coats(test: &mut SprayTest, coats: &[(Id, Id)], at: Instant) -> Result<(), Refused> {
    let mut first: Option<Instant> = None;
    for (panel, coat) in coats {
        let own = panel_mut(test, panel)?.coats.find_mut(coat).ok_or(Refused::Gone)?.at;
        first = own.filter(|own| first.is_none_or(|known| *own < known)).or(first);
    }
    for (panel, coat) in coats {
        let own = &mut panel_mut(test, panel)?.coats.find_mut(coat).ok_or(Refused::Gone)?.at;
        let behind_h = own.zip(first).map_or(0.0, |(own, first)| own.hours_since(first));
        *own = Some(at.plus_hours(behind_h));
    }
    Ok(())
}

impl SprayTest {
    /// Every weigh-in made in a round, of panels and blanks.
    pub(crate) fn weigh_ins_in<'a>(&'a mut self, round: &Id) -> impl Iterator<Item = &'a mut WeighIn> {
        let of_panels = self.panels.kept_mut().flat_map(|panel| panel.weigh_ins.kept_mut());
        let of_blanks = self.blanks.kept_mut().flat_map(|blank| blank.weigh_ins.kept_mut());
        of_panels.chain(of_blanks).filter(|weigh_in| weigh_in.round.as_ref() == Some(round))
    }
}

fn panel_mut<'a>(test: &'a mut SprayTest, id: &Id) -> Result<&'a mut Panel, Refused> {
    test.panels.find_mut(id).ok_or(Refused::Gone)
}

/// The newest entry that is known of a panel, else its cup; of a blank its own or the newest coat, since it is weighed with the
/// panels. What is written next comes after it, whatever the clocks say.
fn newest_known(test: &SprayTest, owner: &Owner) -> Ref<DoneBefore> {
    fn newest<E: Entry>(list: &Entries<E>) -> Option<(&Stamp, &Id)> {
        list.kept().next_back().map(|entry| (entry.stamp(), entry.id()))
    }
    let Owner::Panel(id) = owner else {
        let coats = test.panels.kept().filter_map(|panel| newest(&panel.coats));
        let own = owner.weigh_ins(test).and_then(newest).into_iter().chain(owner.left(test).and_then(newest));
        return coats.chain(own).max().map(|(_, id)| id.clone()).into();
    };
    let Some(panel) = test.panels.find(id) else { return Ref::default() };
    let known = [newest(&panel.coats), newest(&panel.dabs), newest(&panel.weigh_ins), newest(&panel.left)];
    known.into_iter().flatten().max().map(|(_, id)| id).or(panel.mix.as_ref()).cloned().into()
}

fn weigh_ins_mut<'a>(test: &'a mut SprayTest, owner: &Owner) -> Result<&'a mut Entries<WeighIn>, Refused> {
    owner.weigh_ins_mut(test).ok_or(Refused::Gone)
}

/// The scale that stands first is the one in use until a round says another.
fn first_balance(test: &SprayTest) -> Ref<Balance> {
    test.balances.kept().next().map(|balance| balance.id.clone()).into()
}
