#!/usr/bin/env bash
# Prints the weight of the first load of dist/, and fails over the ceiling.

. "$(dirname "$0")/tools.sh"

use_node
cd "$ROOT"
exec node tests/setup/first-load.mjs dist 530
