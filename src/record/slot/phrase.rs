//! Lines of text.

use crate::model::SprayTest;
use crate::stamp::Id;

/// One line of text on the card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Phrase {
    /// The name of the test.
    Title,
    /// Who sprays.
    Painter,
    /// In which shop.
    Shop,
    /// The metal of its panels.
    Metal,
    /// How the metal was prepared.
    Preparation,
    /// The currency of its prices, as an ISO 4217 code.
    Currency,
    /// The name of a candidate.
    Candidate(Id),
    /// The notes on a candidate.
    Notes(Id),
    /// How the gun was set for a candidate, in words.
    GunNote(Id),
    /// The name of a component: of the candidate, the component.
    Component(Id, Id),
    /// Its grade, as chosen for the temperature.
    Grade(Id, Id),
    /// Its batch number.
    Batch(Id, Id),
    /// The number of a panel.
    Panel(Id),
    /// A panel's place in the rack.
    Rack(Id),
    /// The name of a blank.
    Blank(Id),
    /// Where a blank stands.
    BlankPlace(Id),
    /// The name of a scale.
    Balance(Id),
    /// The name of a comb.
    Comb(Id),
    /// The place of a round.
    Place(Id),
}

macro_rules! locate_text {
    ($phrase:ident in $test:ident by $find:ident $($mutable:tt)?) => {
        Some(match $phrase {
            Phrase::Title => & $($mutable)? $test.title,
            Phrase::Painter => & $($mutable)? $test.painter,
            Phrase::Shop => & $($mutable)? $test.shop,
            Phrase::Metal => & $($mutable)? $test.metal,
            Phrase::Preparation => & $($mutable)? $test.preparation,
            Phrase::Currency => & $($mutable)? $test.currency,
            Phrase::Candidate(candidate) => & $($mutable)? $test.candidates.$find(candidate)?.label,
            Phrase::Notes(candidate) => & $($mutable)? $test.candidates.$find(candidate)?.notes,
            Phrase::GunNote(candidate) => & $($mutable)? $test.candidates.$find(candidate)?.gun.note,
            Phrase::Component(candidate, component) => {
                & $($mutable)? $test.candidates.$find(candidate)?.mix.components.$find(component)?.label
            }
            Phrase::Grade(candidate, component) => {
                & $($mutable)? $test.candidates.$find(candidate)?.mix.components.$find(component)?.grade
            }
            Phrase::Batch(candidate, component) => {
                & $($mutable)? $test.candidates.$find(candidate)?.mix.components.$find(component)?.batch
            }
            Phrase::Panel(panel) => & $($mutable)? $test.panels.$find(panel)?.label,
            Phrase::Rack(panel) => & $($mutable)? $test.panels.$find(panel)?.rack,
            Phrase::Blank(blank) => & $($mutable)? $test.blanks.$find(blank)?.label,
            Phrase::BlankPlace(blank) => & $($mutable)? $test.blanks.$find(blank)?.place,
            Phrase::Balance(balance) => & $($mutable)? $test.balances.$find(balance)?.label,
            Phrase::Comb(comb) => & $($mutable)? $test.combs.$find(comb)?.label,
            Phrase::Place(round) => & $($mutable)? $test.rounds.$find(round)?.place,
        })
    };
}

impl Phrase {
    /// The ids of the entries it stands in, one behind the other.
    pub fn owners(&self) -> String {
        match self {
            Self::Title | Self::Currency | Self::Painter | Self::Shop | Self::Metal | Self::Preparation => {
                String::new()
            }
            Self::Candidate(id) | Self::Notes(id) | Self::GunNote(id) | Self::Panel(id) | Self::Rack(id) => {
                id.0.clone()
            }
            Self::Blank(id) | Self::BlankPlace(id) | Self::Balance(id) | Self::Comb(id) => id.0.clone(),
            Self::Place(id) => id.0.clone(),
            Self::Component(of, id) | Self::Grade(of, id) | Self::Batch(of, id) => [&*of.0, &id.0].join("|"),
        }
    }

    /// What stands there.
    pub fn read<'a>(&self, test: &'a SprayTest) -> Option<&'a str> {
        let text: Option<&String> = locate_text!(self in test by find);
        text.map(String::as_str)
    }

    pub(crate) fn text_mut<'a>(&self, test: &'a mut SprayTest) -> Option<&'a mut String> {
        locate_text!(self in test by find_mut mut)
    }
}
