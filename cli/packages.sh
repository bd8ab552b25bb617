# The Debian 12 packages, and how the scripts install them. Sourced by cli/demo.sh and tests/run.sh.
# DEVELOPERS.md says what each is for.

# To build the program and to run it.
build_packages=(
    g++ cmake ninja-build pkg-config
    libboost-dev libosmium2-dev libprotozero-dev nlohmann-json3-dev libcli11-dev
    liberfa-dev libhowardhinnant-date-dev tzdata
    zlib1g-dev libbz2-dev libexpat1-dev liblz4-dev
    libtiff-dev libminizip-dev
)

# Besides, to build and run the tests (ccache makes building again quick).
test_packages=(ccache doctest-dev libboost-graph-dev clang-format locales)

# as_root COMMAND...: runs it as root, by sudo where need be.
as_root() {
    if [[ $EUID -eq 0 ]]; then
        "$@"
    elif command -v sudo >/dev/null; then
        sudo "$@"
    else
        echo "error: needs root, and sudo is not installed; run as root: $*" >&2
        return 1
    fi
}

# install_packages NAME...: installs those that are missing; touches neither apt nor the network when none is.
install_packages() {
    local name missing=()
    if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
        echo "error: this is no Debian system; install what matches these Debian 12 packages, then follow DEVELOPERS.md:" >&2
        echo "  $*" >&2
        return 1
    fi
    for name in "$@"; do
        if [[ "$(dpkg-query -W -f '${db:Status-Status}\n' "$name" 2>/dev/null | head -n 1)" != installed ]]; then
            missing+=("$name")
        fi
    done
    if [[ ${#missing[@]} -eq 0 ]]; then
        echo "== packages: all $# are installed"
        return 0
    fi
    echo "== packages: installing ${missing[*]}"
    as_root env DEBIAN_FRONTEND=noninteractive apt-get update -q
    as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
}
