#!/usr/bin/env bash
# Installs what is missing, and only that. With everything in place it looks at a few files and is done.
#
#   install.sh check     what the native tests need: cargo, rustfmt, clippy, a C linker
#   install.sh page      what the page build needs: the wasm target, trunk, wasm-bindgen, wasm-opt, node
#   install.sh browser   what the browser tests need: Chromium and the packages of tests/browser
#   install.sh engines   what they need on other engines: Firefox and WebKitGTK
#
# Environment: CHROME names a browser to use; WASM_FROM=debian builds the wasm target from Debian's packages even where
# rustup has it (to test that road); XDG_CACHE_HOME moves the cache.

. "$(dirname "$0")/tools.sh"
. "$(dirname "$0")/rust.sh"

# Two set-ups at once (two clones, say) take turns.
take_turns() {
    mkdir -p "$CACHE"
    if have flock; then
        exec 9>"$CACHE/.lock"
        flock -n 9 || { say "setup: waiting for another set-up to finish"; flock 9; }
    fi
}

install_linker() { have cc || apt_install build-essential; }

install_check() {
    install_linker
    cargo fmt --version >/dev/null 2>&1 || rustup component add rustfmt >&2 || die "rustfmt is missing: rustup component add rustfmt"
    cargo clippy --version >/dev/null 2>&1 || rustup component add clippy >&2 || die "clippy is missing: rustup component add clippy"
}

install_page() {
    install_linker
    install_wasm_target
    install_node
    if ! on_path trunk "$TRUNK_VERSION" && [ ! -x "$TRUNK_DIR/bin/trunk" ]; then
        say "setup: building trunk $TRUNK_VERSION (three to four minutes, once)"
        into "$TRUNK_DIR" make_trunk || die "trunk could not be built"
    fi
    if ! on_path wasm-bindgen "$BINDGEN_VERSION" && [ ! -x "$BINDGEN_DIR/bin/wasm-bindgen" ]; then
        say "setup: building wasm-bindgen $BINDGEN_VERSION (a minute or two, once)"
        into "$BINDGEN_DIR" make_bindgen || die "wasm-bindgen could not be built"
    fi
    if [ ! -x "$WASM_SPLIT_DIR/bin/wasm-split-cli" ]; then
        say "setup: building wasm-split $WASM_SPLIT_VERSION (a minute or two, once)"
        into "$WASM_SPLIT_DIR" make_wasm_split || die "wasm-split could not be built"
    fi
    if [ ! -x "$BINARYEN_DIR/bin/wasm-opt" ]; then
        say "setup: fetching wasm-opt (binaryen $BINARYEN_VERSION)"
        into "$BINARYEN_DIR" make_binaryen || die "binaryen could not be installed from npm"
    fi
}

# Unoptimised: they run for a second and would take a quarter of an hour to optimise.
make_trunk() {
    CARGO_PROFILE_DEV_DEBUG=0 CARGO_TARGET_DIR=$1/build cargo install --quiet --locked --debug --no-track --root "$1" \
        --no-default-features --features rustls trunk --version "=$TRUNK_VERSION" >&2 && rm -rf "$1/build"
}

# Not --locked: one of the versions it locks is gone from the registry.
make_bindgen() {
    CARGO_PROFILE_DEV_DEBUG=0 CARGO_TARGET_DIR=$1/build cargo install --quiet --debug --no-track --root "$1" \
        wasm-bindgen-cli --version "=$BINDGEN_VERSION" --bin wasm-bindgen >&2 && rm -rf "$1/build"
}

make_wasm_split() {
    CARGO_PROFILE_DEV_DEBUG=0 CARGO_TARGET_DIR=$1/build cargo install --quiet --locked --debug --no-track --root "$1" \
        --features build-binary wasm_split_cli_support --version "=$WASM_SPLIT_VERSION" >&2 && rm -rf "$1/build"
}

make_binaryen() {
    npm install --loglevel=error --no-update-notifier --no-audit --no-fund --prefix "$1" "binaryen@$BINARYEN_VERSION" >&2 || return 1
    mkdir "$1/bin" && ln -s ../node_modules/.bin/wasm-opt "$1/bin/wasm-opt"
}

install_node() {
    if ! have node || ! have npm; then apt_install nodejs npm; fi
    if node_is_new_enough; then return; fi
    if [ ! -x "$NODE_DIR/bin/node" ]; then
        say "setup: node $(node --version) is too old here; fetching $NODE_VERSION from npm"
        into "$NODE_DIR" make_node || die "please install node 20 or newer"
    fi
    use_node
}

# npm has node itself, a package for each system and processor.
make_node() {
    local system
    system=$(node -p 'process.platform + "-" + process.arch')
    npm install --loglevel=error --no-update-notifier --no-audit --no-fund --prefix "$1" "node-$system@$NODE_VERSION" >&2 || return 1
    mkdir "$1/bin" && ln -s "../node_modules/node-$system/bin/node" "$1/bin/node"
}

install_browser() {
    install_node
    use_browser
    if [ -z "${CHROME:-}" ]; then
        say "setup: installing Chromium"
        apt_install chromium
    fi
    # Packages are keyed by the lock file, and only linked into the tree: a fresh clone has them at once.
    local key dir
    key=$(cksum <"$BROWSER_TESTS/package-lock.json" | tr -d ' ')
    dir=$CACHE/browser-tests-$key
    if [ ! -d "$dir/node_modules" ]; then
        say "setup: fetching the browser tests' packages"
        into "$dir" make_packages || die "the browser tests' packages could not be installed from npm"
    fi
    if [ "$(readlink "$BROWSER_TESTS/node_modules" || true)" != "$dir/node_modules" ]; then
        rm -rf "$BROWSER_TESTS/node_modules"
        ln -s "$dir/node_modules" "$BROWSER_TESTS/node_modules"
    fi
}

# The engines beside Chromium: Debian's own, which apt alone brings. Elsewhere the tests on them are left out.
install_engines() {
    local missing=()
    has_firefox || missing+=(firefox-esr)
    has_webkit || missing+=(webkit2gtk-driver xvfb)
    if [ ${#missing[@]} = 0 ]; then return; fi
    if ! have apt-get; then
        say "setup: no tests on Gecko and WebKit here: they take Debian's firefox-esr, webkit2gtk-driver and xvfb"
        return
    fi
    say "setup: installing Firefox and WebKitGTK (a minute, once)"
    apt_install "${missing[@]}"
    has_webkit || say "setup: no tests on WebKit here: this Debian has no WebKitGTK 4.1"
}

make_packages() {
    cp "$BROWSER_TESTS/package.json" "$BROWSER_TESTS/package-lock.json" "$1/"
    (cd "$1" && npm ci --loglevel=error --no-update-notifier --no-audit --no-fund >&2)
}

find_rustup
take_turns
for part in "$@"; do
    case $part in
        check | page | browser | engines) "install_$part" ;;
        *) die "install.sh knows check, page, browser and engines, not '$part'" ;;
    esac
done
