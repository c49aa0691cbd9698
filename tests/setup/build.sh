#!/usr/bin/env bash
# Builds the release page into dist/ with trunk. Tools must be there already (install.sh page).

. "$(dirname "$0")/tools.sh"

find_rustup
use_page_tools
cd "$ROOT"
# trunk builds offline, so what the lock file names must be here by then.
cargo fetch --quiet --locked --target "$WASM"
# trunk reads NO_COLOR as true or false only; other tools take any value.
unset NO_COLOR
exec trunk build --config Trunk.toml
