//! Names of files as addresses: relative references of RFC 3986.

use std::fmt::Write;

/// A file's name as an address: what no address may have is written as `%20`, and a path from the root
/// begins with `file://`.
pub(super) fn address(file: &str) -> String {
    let path = match cfg!(windows) {
        true => file.replace('\\', "/"),
        false => file.to_owned(),
    };
    let path = path.strip_prefix("./").unwrap_or(&path);
    let is_of_drive = cfg!(windows) && path.get(1..3) == Some(":/");
    let mut address = match (path.starts_with('/'), is_of_drive) {
        (true, _) => "file://".to_owned(),
        (false, true) => "file:///".to_owned(),
        (false, false) => String::new(),
    };
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            address.push(char::from(byte));
        } else {
            // Writing to a string cannot fail.
            let _ = write!(address, "%{byte:02X}");
        }
    }
    address
}

#[cfg(test)]
mod tests {
    use super::address;

    /// RFC 3986, sections 2.3 (unreserved) and 4.2 (a colon in a first segment would make a scheme).
    #[test]
    fn what_an_address_may_not_have_is_written_out() {
        assert_eq!(address("lamps/a b.yaml"), "lamps/a%20b.yaml");
        assert_eq!(address("./a:b#c?d%e.yaml"), "a%3Ab%23c%3Fd%25e.yaml");
        assert_eq!(address("../Größe.yaml"), "../Gr%C3%B6%C3%9Fe.yaml");
        assert_eq!(address("/tmp/[x].yaml"), "file:///tmp/%5Bx%5D.yaml");
    }
}
