#!/usr/bin/env bash
# Runs the suites, all of them even when one fails, and adds them up in one last line. The release page is built beside the
# native suites: its last steps keep one core busy for minutes.
#
#   test.sh         everything: formatting, clippy, documentation, native tests, release page, its weight, browser tests
#   test.sh engines the scenarios that are marked for every engine, on Firefox and WebKitGTK
#   test.sh check   the fast part, without the page: formatting, clippy and tests with no default features

. "$(dirname "$0")/tools.sh"
. "$(dirname "$0")/tally.sh"

mode=${1:-all}
cd "$ROOT"
find_rustup
mkdir -p target/logs
# From here on a failure is counted, not the end.
set +e

set_up() {
    if ! tests/setup/install.sh "$@"; then
        failed "set-up"
        total
        exit 1
    fi
}

case $mode in
    check)
        set_up check
        check formatting cargo fmt --all --check
        check "clippy, without the page" cargo clippy --locked --workspace --all-targets --no-default-features -- -D warnings
        suite "native tests, without the page" libtest cargo test --locked --workspace --no-default-features --no-fail-fast
        ;;
    all)
        set_up check page browser
        use_node
        use_browser
        begin make --no-print-directory page
        check formatting cargo fmt --all --check
        check "clippy" cargo clippy --locked --workspace --all-targets -- -D warnings
        check "clippy, without the page" cargo clippy --locked --workspace --all-targets --no-default-features -- -D warnings
        check "documentation" env RUSTDOCFLAGS="-D warnings" cargo doc --locked --workspace --no-deps
        # Nothing of the page is tested natively: without it, it need not be compiled for this machine.
        suite "native tests" libtest cargo test --locked --workspace --no-default-features --no-fail-fast
        finish
        if check "release page" begun; then
            check "first load" tests/setup/first-load.sh
            suite "browser tests" tap node tests/browser/run.mjs
        else
            skip_as_failed "first load" "browser tests"
        fi
        ;;
    engines)
        set_up page browser engines
        use_node
        use_browser
        if check "release page" make --no-print-directory page; then
            if has_firefox; then suite "browser tests, Firefox" tap env ENGINE=firefox node tests/browser/run.mjs; fi
            if has_webkit; then suite "browser tests, WebKitGTK" tap env ENGINE=webkit node tests/browser/run.mjs; fi
        else
            skip_as_failed "browser tests on other engines"
        fi
        ;;
    *) die "test.sh knows no mode '$mode'" ;;
esac
total
