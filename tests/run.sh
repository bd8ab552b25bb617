#!/usr/bin/env bash
# Builds everything and runs every test on a Debian 12 machine; installs the packages it needs first. Writes into build/
# only. Exit code 0 when every test passed.
#
#     bash tests/run.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source cli/packages.sh

install_packages "${build_packages[@]}" "${test_packages[@]}"

# One test runs the program under a locale that writes decimals with a comma.
if locale -a | grep -qix 'de_DE\.utf-\?8'; then
    echo "== locale de_DE.UTF-8: here"
else
    echo "== locale de_DE.UTF-8: making it"
    as_root localedef -i de_DE -f UTF-8 de_DE.UTF-8
fi

jobs="$(nproc)"
echo "== configure: cmake --preset release"
cmake --preset release -DBUILD_TESTING=ON
echo "== build: everything, $jobs at a time"
cmake --build --preset release -j "$jobs"
echo "== build: each header alone"
cmake --build --preset release -j "$jobs" --target all_verify_interface_header_sets
echo "== test: ctest --preset release"
ctest --preset release -j "$jobs" --no-tests=error
