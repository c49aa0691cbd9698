#!/usr/bin/env bash
# Serves dist/ until Ctrl-C: serve.sh [HOST [PORT]].

. "$(dirname "$0")/tools.sh"

use_node
cd "$ROOT"
exec node tests/setup/serve.mjs dist "$@"
