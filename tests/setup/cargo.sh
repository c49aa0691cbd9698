#!/usr/bin/env bash
# cargo, wherever rustup keeps it.

. "$(dirname "$0")/tools.sh"

find_rustup
exec cargo "$@"
