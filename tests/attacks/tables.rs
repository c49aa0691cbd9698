//! The tables themselves: one that could not fail would prove nothing.

use crate::{Attacks, holds, same};

#[test]
fn an_attempt_that_is_survived_is_counted() {
    let mut attacks = Attacks::on("tables");
    attacks.attempt("equal", || same("two", 2, 2));
    attacks.attempt("true", || holds(true, "it does not"));
    attacks.close();
}

#[test]
#[should_panic(expected = "unequal: three is 3, wanted 4")]
fn one_that_breaks_something_fails_the_table() {
    let mut attacks = Attacks::on("tables");
    attacks.attempt("equal", || same("two", 2, 2));
    attacks.attempt("unequal", || same("three", 3, 4));
    attacks.close();
}

#[test]
#[should_panic(expected = "loud: a panic")]
fn one_that_panics_fails_the_table() {
    let mut attacks = Attacks::on("tables");
    attacks.attempt("loud", || panic!("on purpose"));
    attacks.close();
}

#[test]
#[should_panic(expected = "nothing was tried")]
fn an_empty_table_fails() {
    Attacks::on("tables").close();
}
