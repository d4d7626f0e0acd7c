#!/usr/bin/env bash
# Builds the libraries and puts them, the headers and a file for pkg-config below a folder:
#
#     rulesets/bindings/c/install.sh /usr/local
#
# With DEBUG_BUILD=1 the build is quick and the library slow, for tests.
set -euo pipefail
prefix=$(realpath -m "${1:?the folder to install to, such as /usr/local}")
cd "$(dirname "$0")"

profile=(--release) folder=release
if [ -n "${DEBUG_BUILD:-}" ]; then profile=() folder=debug; fi
# What the static library needs of the system is asked of the compiler, which knows.
notes=$(cargo rustc --locked --lib "${profile[@]}" -- --print native-static-libs 2>&1 | tee /dev/stderr)
target=$(cargo metadata --format-version 1 --no-deps --locked |
    sed -E 's/.*"target_directory":"([^"]*)".*/\1/')
private=$(sed -n 's/^note: native-static-libs: //p' <<<"$notes" | tail -1)
# Cargo says nothing where it had nothing to build.
private=${private:--lgcc_s -lutil -lrt -lpthread -lm -ldl -lc}
version=$(sed -n 's/^version = "\(.*\)"/\1/p' Cargo.toml | head -1)

mkdir -p "$prefix/include" "$prefix/lib/pkgconfig"
install -m 644 include/cellrules.h include/cellrules.hpp "$prefix/include/"
install -m 644 "$target/$folder/libcellrules.a" "$prefix/lib/"
# By the name that it says it has, which programs look for, and by the one that they are linked by.
named=$(readelf -d "$target/$folder/libcellrules.so" | sed -n 's/.*(SONAME).*\[\(.*\)\]/\1/p')
install -m 755 "$target/$folder/libcellrules.so" "$prefix/lib/$named"
ln -sf "$named" "$prefix/lib/libcellrules.so"
sed -e "s|@prefix@|$prefix|" -e "s|@version@|$version|" -e "s|@private@|$private|" \
    cellrules.pc.in > "$prefix/lib/pkgconfig/cellrules.pc"
echo "installed to $prefix" >&2
