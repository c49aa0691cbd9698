#!/usr/bin/env bash
# Prints what a first visit to dist/ fetches, and fails where that is too much.

. "$(dirname "$0")/tools.sh"

use_node
cd "$ROOT"
exec node tests/setup/first-load.mjs dist
