//! Names the shared library by its version, as programs that are linked with it look for it: while the
//! first number is 0, the middle one counts as the first (`PROMISES.md`).

use std::env;

fn main() {
    let is = |key: &str, wanted: &str| env::var(key).is_ok_and(|value| value == wanted);
    if is("CARGO_CFG_TARGET_OS", "linux") {
        let number = |key: &str| env::var(key).unwrap_or_default();
        let (major, minor) = (
            number("CARGO_PKG_VERSION_MAJOR"),
            number("CARGO_PKG_VERSION_MINOR"),
        );
        let version = if major == "0" {
            format!("0.{minor}")
        } else {
            major
        };
        println!("cargo::rustc-cdylib-link-arg=-Wl,-soname,libcellrules.so.{version}");
    }
    println!("cargo::rerun-if-changed=build.rs");
}
