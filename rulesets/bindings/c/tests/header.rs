//! The committed header is the one that cbindgen makes of the source.

use std::path::Path;

#[test]
fn the_header_is_that_of_the_source() {
    let crate_folder = Path::new(env!("CARGO_MANIFEST_DIR"));
    let made = cbindgen::generate(crate_folder).expect("the source can be read");
    let path = crate_folder.join("include/cellrules.h");
    if std::env::var_os("UPDATE_HEADER").is_some() {
        made.write_to_file(&path);
    }
    let mut text = Vec::new();
    made.write(&mut text);
    let committed = std::fs::read(&path).unwrap_or_default();
    assert!(
        committed == text,
        "{} is out of date: run `UPDATE_HEADER=1 ./test.sh`",
        path.display()
    );
}
