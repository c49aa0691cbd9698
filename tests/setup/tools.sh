# Sourced by the other scripts here: where the tools live, which versions, and the environment a page build needs.
# Tools live in a cache of the user's own, in folders named by version, so that every clone shares them and a new
# version never meets an old one. Plain enough for the bash 3.2 of a Mac.

set -euo pipefail

ROOT=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
CACHE=${XDG_CACHE_HOME:-$HOME/.cache}/comb-scale
BROWSER_TESTS=$ROOT/tests/browser

# The version of a locked crate, for tools that must equal it.
locked_version() {
    awk -v want="\"$1\"" '$1 == "name" && $3 == want { found = 1 } found && $1 == "version" { gsub(/"/, "", $3); print $3; exit }' \
        "$ROOT/Cargo.lock"
}

TRUNK_VERSION=0.21.14
WASM_SPLIT_VERSION=0.2.4
BINARYEN_VERSION=132.0.0
# The generator and the library it generates for speak a private language: the versions must be equal.
BINDGEN_VERSION=$(locked_version wasm-bindgen)

# Where the machine's node is too old (Debian 12 has 18), this one comes from npm.
NODE_VERSION=20.20.2

TRUNK_DIR=$CACHE/trunk-$TRUNK_VERSION
WASM_SPLIT_DIR=$CACHE/wasm-split-$WASM_SPLIT_VERSION
BINDGEN_DIR=$CACHE/wasm-bindgen-cli-$BINDGEN_VERSION
BINARYEN_DIR=$CACHE/binaryen-$BINARYEN_VERSION
NODE_DIR=$CACHE/node-$NODE_VERSION

WASM=wasm32-unknown-unknown
# The name under which rustup knows the compiler made by rust.sh where rustup itself cannot supply the target.
LINKED_TOOLCHAIN=comb-scale-wasm
LINKED_DIR=$CACHE/rust-wasm

say() { printf '%s\n' "$*" >&2; }
die() { say "setup: $*"; exit 1; }
have() { command -v "$1" >/dev/null 2>&1; }

# Debian packages, as root or through sudo. The list of packages is refreshed once per run, only when one is needed.
apt_install() {
    have apt-get || die "please install: $* (this script can install packages on Debian and its relatives only)"
    as_root apt-get update -qq || say "setup: the list of packages could not be refreshed; trying with the old one"
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@" >/dev/null ||
        die "apt could not install: $*"
}

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    elif have sudo; then
        sudo "$@"
    else
        die "this needs root, and there is no sudo here. Run as root: $*"
    fi
}

# Builds in a scratch folder and moves the result into place in one step, so that an interrupted set-up leaves nothing
# half made. Usage: into DIR COMMAND..., where COMMAND gets the scratch folder as its last argument.
into() {
    local dir=$1 scratch
    shift
    mkdir -p "$CACHE"
    scratch=$(mktemp -d "$CACHE/.making-XXXXXX")
    if ! "$@" "$scratch"; then
        rm -rf "$scratch"
        return 1
    fi
    rm -rf "$dir"
    chmod 755 "$scratch"
    mv "$scratch" "$dir"
}

# rustup looks for its toolchains under HOME. With a HOME of another name (a fresh account on a prepared machine, a
# container), the toolchains stay beside the rustup that runs; only cargo's own cache starts anew.
find_rustup() {
    if ! have cargo && [ -x "${CARGO_HOME:-$HOME/.cargo}/bin/cargo" ]; then
        export PATH="${CARGO_HOME:-$HOME/.cargo}/bin:$PATH"
    fi
    have cargo || die "cargo is missing. Install Rust with rustup (https://rustup.rs), then try again."
    if [ -z "${RUSTUP_HOME:-}" ] && ! cargo --version >/dev/null 2>&1; then
        local beside
        beside=$(dirname "$(dirname "$(dirname "$(command -v cargo)")")")/.rustup
        if [ -d "$beside" ]; then export RUSTUP_HOME=$beside; fi
    fi
    cargo --version >/dev/null 2>&1 || die "cargo does not run here. Does 'rustup show' list a toolchain?"
}

node_is_new_enough() { have node && node -e 'process.exit(parseInt(process.versions.node) < 20 ? 1 : 0)'; }

use_node() {
    if [ -x "$NODE_DIR/bin/node" ] && ! node_is_new_enough; then export PATH="$NODE_DIR/bin:$PATH"; fi
}

# A program of exactly this version, already on the machine: use it as it is.
on_path() { have "$1" && "$1" --version 2>/dev/null | grep -qwF -- "$2"; }

use_browser() {
    if [ -n "${CHROME:-}" ]; then return; fi
    local name
    for name in chromium chromium-browser google-chrome-stable google-chrome; do
        if have "$name"; then
            CHROME=$(command -v "$name")
            break
        fi
    done
    local mac="/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"
    if [ -z "${CHROME:-}" ] && [ -x "$mac" ]; then CHROME=$mac; fi
    export CHROME
}

has_firefox() { [ -n "${FIREFOX:-}" ] || have firefox-esr; }

# Its small browser is no program of its own: Debian keeps it with the library.
has_webkit() { have WebKitWebDriver && have Xvfb && ls /usr/lib/*/webkit2gtk-4.1/MiniBrowser >/dev/null 2>&1; }

# Does the rustup toolchain in use have the wasm target? Looks at the disk, so it costs nothing.
rustup_has_wasm() { [ -d "$(rustc --print sysroot)/lib/rustlib/$WASM/lib" ]; }

# What a page build needs in its environment: tools on PATH, and the compiler that knows the target.
use_page_tools() {
    use_node
    export PATH="$TRUNK_DIR/bin:$WASM_SPLIT_DIR/bin:$BINDGEN_DIR/bin:$BINARYEN_DIR/bin:$PATH"
    if [ "${WASM_FROM:-}" != debian ] && rustup_has_wasm; then return; fi
    export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER
    CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=$(find_linker)
    export RUSTUP_TOOLCHAIN=$LINKED_TOOLCHAIN
}

# rust-lld comes with every rustup toolchain; Debian's lld does as well.
find_linker() {
    local lld
    lld=$(find "$(rustc --print sysroot)/lib/rustlib" -name rust-lld -type f | head -n 1)
    if [ -n "$lld" ]; then
        printf '%s\n' "$lld"
    else
        have wasm-ld || apt_install lld
        command -v wasm-ld || die "no linker for WebAssembly found (rust-lld or wasm-ld)"
    fi
}
