#!/usr/bin/env bash
# Builds dayweave on a Debian 12 machine (installs the packages it needs first) and plans the demo shoot.
#
#     bash cli/demo.sh               the six locations in one day
#     bash cli/demo.sh three_days    the same island in three days
set -euo pipefail

shoot_name="${1:-one_day}"
case "$shoot_name" in
one_day | three_days) ;;
*)
    echo "error: \"$shoot_name\" is not a demo shoot; write one_day or three_days" >&2
    exit 2
    ;;
esac

cd "$(dirname "${BASH_SOURCE[0]}")/.."
source cli/packages.sh

install_packages "${build_packages[@]}"
echo "== configure: cmake --preset release"
cmake --preset release -DBUILD_TESTING=OFF
echo "== build: dayweave"
cmake --build --preset release -j "$(nproc)" --target dayweave

shoots=(regions/*/"$shoot_name".json)
shoot="${shoots[0]}"
if [[ ! -f "$shoot" ]]; then
    echo "error: regions/*/$shoot_name.json: no such shoot file" >&2
    exit 1
fi
program="$(find build/release -type f -name dayweave -perm -u+x | head -n 1)"
output="out/demo"
echo "== run: $program plan $shoot -o $output --overwrite"
"$program" plan "$shoot" -o "$output" --overwrite

echo
echo "== written; open these:"
for file in "$output"/*; do
    echo "  $PWD/$file"
done
