# Sourced by install.sh: a Rust compiler that can build for WebAssembly.
#
# Ordinarily `rustup target add` is all. Where rustup cannot download, Debian's rustc-web and the library source that
# goes with it make one: they are unpacked into the cache (their packages refuse to be installed beside rustup's or
# Debian's own), the standard library is built for wasm32 once, and rustup is told of the result under its own name.

install_wasm_target() {
    if [ "${WASM_FROM:-}" != debian ]; then
        if rustup_has_wasm; then return; fi
        # One refusal is enough: with the other road taken once, rustup is not asked again.
        if [ ! -e "$LINKED_DIR/ready" ]; then
            say "setup: adding the $WASM target to $(rustc --version)"
            if have rustup && rustup target add "$WASM" >/dev/null 2>&1 && rustup_has_wasm; then return; fi
            say "setup: rustup could not fetch it"
        fi
    fi
    have rustup || die "rustup is missing, and this Rust has no $WASM target. Install Rust with rustup."
    if [ ! -e "$LINKED_DIR/ready" ]; then
        have apt-get || die "rustup could not fetch the $WASM target. Check the network, then try again."
        say "setup: building the $WASM target from Debian's packages (two minutes, once)"
        into "$LINKED_DIR" make_linked_toolchain || die "the $WASM toolchain could not be built from Debian's packages"
    fi
    # Cargo stays that of the toolchain in use: Debian's would bring libraries along that nobody else here needs.
    ln -sfn "$(rustup which cargo)" "$LINKED_DIR/usr/bin/cargo"
    link_toolchain "$LINKED_DIR/usr"
}

link_toolchain() {
    local registered
    registered=$(readlink "${RUSTUP_HOME:-$HOME/.rustup}/toolchains/$LINKED_TOOLCHAIN" || true)
    if [ "$registered" != "$1" ]; then rustup toolchain link "$LINKED_TOOLCHAIN" "$1"; fi
}

make_linked_toolchain() {
    local dir=$1 std llvm
    as_root apt-get update -qq || say "setup: the list of packages could not be refreshed; trying with the old one"
    # The names of these two carry version numbers; the packages that need them know which.
    std=$(depends libstd-rust-web-dev '^libstd-rust-web-[0-9]') || return 1
    llvm=$(depends "$std" '^libllvm') || return 1
    apt_install "$llvm" gcc libc6-dev binutils
    mkdir "$dir/packages"
    (cd "$dir/packages" && chmod 755 .. . && apt-get download -qq rustc-web libstd-rust-web-dev "$std" rust-web-src 2>/dev/null) ||
        return 1
    local deb
    for deb in "$dir"/packages/*.deb; do dpkg-deb -x "$deb" "$dir" || return 1; done
    rm -rf "$dir/packages"
    # rustup puts the toolchain's lib folder, not its subfolders, on the library path.
    (cd "$dir/usr/lib" && ln -sf "$(uname -m)"-linux-gnu/librustc_driver-*.so .)
    ln -sfn "$(rustup which cargo)" "$dir/usr/bin/cargo"
    link_toolchain "$dir/usr"
    build_std "$dir" || return 1
    rm -rf "$dir/usr/src" "$dir/usr/lib/rustlib/src" "$dir/usr/share"
    touch "$dir/ready"
}

# The package that $1 depends on and whose name looks like $2.
depends() {
    apt-cache depends "$1" 2>/dev/null | awk -v like="$2" '$1 == "Depends:" && $2 ~ like { print $2; exit }' | grep . ||
        { say "setup: Debian's $1 is not among this machine's packages"; return 1; }
}

# Builds std, panic_abort and what they need in an empty crate. The bitcode must be in there for link-time optimisation.
build_std() {
    local dir=$1 seed=$1/seed lib=$1/usr/lib/rustlib/$WASM/lib
    mkdir -p "$seed/src" "$lib"
    printf '[package]\nname = "seed"\nversion = "0.0.0"\nedition = "2024"\n' >"$seed/Cargo.toml"
    : >"$seed/src/lib.rs"
    (
        cd "$seed"
        unset CARGO_TARGET_DIR CARGO_BUILD_TARGET_DIR
        RUSTUP_TOOLCHAIN=$LINKED_TOOLCHAIN RUSTC_BOOTSTRAP=1 RUSTFLAGS="-C embed-bitcode=yes" \
            cargo build --quiet -Z build-std=std,panic_abort --release --target "$WASM"
    ) || return 1
    rm -f "$seed/target/$WASM/release/deps/"libseed-*
    cp "$seed/target/$WASM/release/deps/"*.rlib "$lib/" || return 1
    rm -rf "$seed"
}
