//! From older versions of the form to this one, a step a version.

use serde_json::{Map, Value};

/// Turns a record of one version into one of the next.
pub type Step = fn(&mut Map<String, Value>);

/// The steps there are: the first leads from version 1 to version 2, and so on. A change of the form that older pages would
/// misread adds one step here and one to [`VERSION`](super::VERSION).
pub const STEPS: &[Step] = &[];

/// Brings a record of `version` to the version that the steps lead to; a newer one stays as it is.
pub fn migrate(record: &mut Map<String, Value>, version: u64, steps: &[Step]) {
    // The first version is 1, so that many steps lie behind a record.
    let behind = usize::try_from(version - 1).unwrap_or(usize::MAX);
    for step in steps.iter().skip(behind) {
        step(record);
    }
    let newest = steps.len() as u64 + 1;
    if version < newest {
        record.insert("version".into(), newest.into());
    }
}

#[cfg(test)]
mod tests {
    use super::{STEPS, migrate};
    use crate::VERSION;
    use serde_json::{Map, Value, json};

    fn map(value: Value) -> Map<String, Value> {
        value.as_object().expect("an object").clone()
    }

    /// A form that never was: version 1 has weights in kg, version 2 one place for all, version 3 a place in each round.
    const MADE_UP: &[super::Step] = &[
        |record| {
            let grams = record.remove("weight_kg").and_then(|kg| kg.as_f64()).map(|kg| kg * 1000.0);
            record.insert("gross_g".into(), grams.into());
        },
        |record| {
            let place = record.remove("place").unwrap_or_default();
            for round in record.get_mut("rounds").and_then(Value::as_array_mut).into_iter().flatten() {
                round["place"] = place.clone();
            }
        },
    ];

    #[test]
    fn an_older_version_takes_every_step_and_the_newest_none() {
        let newest = json!({ "version": 3, "gross_g": 412.5, "rounds": [ { "place": "Shop" } ], "spare": 1 });
        for older in [
            json!({ "version": 1, "weight_kg": 0.4125, "place": "Shop", "rounds": [ {} ], "spare": 1 }),
            json!({ "version": 2, "gross_g": 412.5, "place": "Shop", "rounds": [ {} ], "spare": 1 }),
            newest.clone(),
        ] {
            let mut record = map(older.clone());
            migrate(&mut record, older["version"].as_u64().unwrap(), MADE_UP);
            assert_eq!(Value::Object(record).to_string(), newest.to_string());
        }
    }

    #[test]
    fn a_version_to_come_stays_as_it_is() {
        let mut record = map(json!({ "version": u64::MAX, "weight_kg": 1 }));
        let before = record.clone();
        migrate(&mut record, u64::MAX, MADE_UP);
        assert_eq!(record, before);
    }

    #[test]
    fn the_steps_lead_to_this_version() {
        assert_eq!(STEPS.len() as u64 + 1, VERSION);
    }
}
