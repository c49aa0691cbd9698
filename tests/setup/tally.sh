# Sourced by test.sh: runs a command as a check (passed or failed as a whole) or as a suite (its own counts), and keeps
# the sum. Output goes to the terminal as it comes, and to target/logs for counting.

PASSED=0
FAILED=0
BROKEN=()
BESIDE_LOG=target/logs/beside.log

heading() { printf '\n== %s\n' "$1"; }

# run NAME COMMAND...: shows and logs its output; the log's name is left in LOG.
run() {
    heading "$1"
    LOG=target/logs/$(printf '%s' "$1" | tr -cs 'a-z0-9' '-').log
    shift
    "$@" 2>&1 | tee "$LOG"
}

# begin COMMAND...: runs it beside what follows. `finish` waits for it; `begun` then shows its output and gives its status.
begin() {
    "$@" >"$BESIDE_LOG" 2>&1 &
    BESIDE=$!
    # Whoever breaks off stops it as well.
    trap 'kill "$BESIDE" 2>/dev/null' EXIT
}

finish() {
    BESIDE_STATUS=0
    wait "$BESIDE" || BESIDE_STATUS=$?
    trap - EXIT
}

begun() {
    cat "$BESIDE_LOG"
    return "$BESIDE_STATUS"
}

check() {
    if run "$@"; then
        PASSED=$((PASSED + 1))
    else
        failed "$1"
        return 1
    fi
}

failed() {
    FAILED=$((FAILED + 1))
    BROKEN+=("$1")
}

# suite NAME FORMAT COMMAND...: FORMAT is libtest (cargo test, documentation tests too) or tap (node's runner).
suite() {
    local name=$1 format=$2 status=0 passed failures
    shift 2
    run "$name" "$@" || status=$?
    case $format in
        libtest)
            passed=$(sum '^test result: ' passed)
            failures=$(sum '^test result: ' failed)
            ;;
        tap)
            passed=$(sum_tap pass)
            failures=$(($(sum_tap fail) + $(sum_tap cancelled)))
            ;;
    esac
    PASSED=$((PASSED + passed))
    FAILED=$((FAILED + failures))
    # A suite that broke before it could count, or that ran nothing at all, has failed as well.
    if [ "$failures" = 0 ] && { [ "$status" != 0 ] || [ "$passed" = 0 ]; }; then failed "$name"
    elif [ "$failures" != 0 ]; then BROKEN+=("$name")
    fi
}

skip_as_failed() {
    local name
    for name in "$@"; do
        heading "$name"
        echo "not run: the page was not built"
        failed "$name"
    done
}

# The sum of the numbers that stand before a word, on the log's lines that look like $1.
sum() {
    grep "$1" "$LOG" | grep -oE "[0-9]+ $2" | awk '{ n += $1 } END { print n + 0 }'
}

# node's closing lines: "# pass 3", or "ℹ pass 3" for a terminal.
sum_tap() {
    awk -v word="$1" 'NF == 3 && $2 == word && $3 ~ /^[0-9]+$/ { n += $3 } END { print n + 0 }' "$LOG"
}

total() {
    printf '\n'
    if [ ${#BROKEN[@]} -gt 0 ]; then printf 'failing: %s\n' "${BROKEN[@]}"; fi
    printf '%s passed, %s failed\n' "$PASSED" "$FAILED"
    [ "$FAILED" = 0 ]
}
