#!/usr/bin/env bash
# Builds the page with trunk. Tools must be there already (install.sh page).
#
#   build.sh                    the release page, into dist/
#   build.sh quick              an unoptimised page, into target/quick-page/: large and slow, but built in seconds after the
#                               first time; `PAGE=target/quick-page node tests/browser/run.mjs spray` runs a scenario on it
#   build.sh watch HOST PORT    an unoptimised page, served, built again and reloaded after every change

. "$(dirname "$0")/tools.sh"

mode=${1:-release}
find_rustup
use_page_tools
cd "$ROOT"
# trunk builds offline, so what the lock file names must be here by then.
cargo fetch --quiet --locked --target "$WASM"
# trunk reads NO_COLOR as true or false only; other tools take any value.
unset NO_COLOR
case $mode in
    release) folder=dist && trunk build --config Trunk.toml ;;
    quick) folder=target/quick-page && trunk build --config Trunk.toml --release=false --dist "$folder" ;;
    watch) exec trunk serve --config Trunk.toml --release=false --dist target/watched-page --address "$2" --port "$3" ;;
    *) die "build.sh knows no mode '$mode'" ;;
esac
exec node tests/setup/seal.mjs "$folder"
