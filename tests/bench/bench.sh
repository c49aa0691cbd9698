#!/usr/bin/env bash
# Builds what the benchmarks need beside the page, and prints their tables; the page is built already. A few minutes.
# RUNS says how often each time on the page is taken; PYTHON names a Python with scipy.

. "$(dirname "$0")/../setup/tools.sh"

find_rustup
use_browser
cd "$ROOT"
export CARGO_TARGET_DIR=$ROOT/target/bench
(cd tests/bench/wasm && cargo build --quiet --release --locked)
use_page_tools
unset NO_COLOR
(cd tests/bench/wasm && cargo build --quiet --release --locked --lib --target "$WASM")
# Without the relocations that our own page is split by: this one is not.
(cd tests/bench/minimal && export RUSTFLAGS="--cfg erase_components" && cargo fetch --quiet --locked --target "$WASM" && trunk build --quiet --release --offline --locked --filehash false --public-url ./ --dist "$CARGO_TARGET_DIR/minimal")
node tests/bench/weight.mjs
exec node tests/bench/table.mjs dist "$CARGO_TARGET_DIR/minimal"
