//! A page as a part of another document, such as a notebook: it brings its style along, which reaches
//! nothing outside of it, and ids of its own.
//!
//! It is made of a page of this module, in which no text can look like markup.

use super::paper::STYLE;

/// The class of what encloses a part, which every rule of its style begins with.
const CLASS: &str = "cellrules";

/// A page as a part of another document. It loads nothing and runs nothing.
#[must_use]
pub fn fragment(page: &str) -> String {
    let body = between(page, "<body>", "</body>").unwrap_or_default();
    // A document has one main part, and this is not the document.
    let body = body.replace("<main>", "<div>").replace("</main>", "</div>");
    let body = with_own_ids(&body, &format!("{CLASS}-{:08x}-", number_of(&body)));
    let mut style = String::new();
    scope(STYLE, &mut style);
    format!("<div class=\"{CLASS}\" lang=\"en\"><style>{style}</style>{body}</div>\n")
}

fn between<'t>(text: &'t str, start: &str, end: &str) -> Option<&'t str> {
    let (_, rest) = text.split_once(start)?;
    Some(rest.rsplit_once(end)?.0)
}

/// A number by which parts are told apart: that of equal parts is equal (FNV-1a).
fn number_of(text: &str) -> u32 {
    let mixed = |number: u32, byte: u8| (number ^ u32::from(byte)).wrapping_mul(0x0100_0193);
    text.bytes().fold(0x811c_9dc5, mixed)
}

/// What stands before ids, and what ends them. No text has a quotation mark that is not escaped.
const IDS: [(&str, char); 4] = [
    (" id=\"", '"'),
    (" aria-labelledby=\"", '"'),
    (" aria-describedby=\"", '"'),
    ("=\"url(#", ')'),
];

/// The same with something before each id, so that two parts in one document have none in common.
fn with_own_ids(body: &str, before: &str) -> String {
    IDS.iter().fold(body.to_owned(), |body, (start, end)| {
        let mut pieces = body.split(start);
        let mut made = pieces.next().unwrap_or_default().to_owned();
        for piece in pieces {
            let (ids, rest) = piece.split_once(*end).unwrap_or((piece, ""));
            let ids: Vec<String> = ids.split(' ').map(|id| format!("{before}{id}")).collect();
            made.push_str(&format!("{start}{}{end}{rest}", ids.join(" ")));
        }
        made
    })
}

/// Writes rules so that each reaches only what is inside; what they say of the sheet of paper is left
/// out. Gives what follows the block that they are in.
fn scope<'s>(mut sheet: &'s str, into: &mut String) -> &'s str {
    while let Some((selectors, rest)) = sheet.split_once('{') {
        if let Some((_, after)) = selectors.split_once('}') {
            // The block ends before the next rule begins.
            return sheet
                .get(sheet.len() - after.len() - rest.len() - 1..)
                .unwrap_or_default();
        }
        let selectors = selectors.trim();
        if selectors.starts_with("@media") {
            into.push_str(&format!("{selectors} {{\n"));
            sheet = scope(rest, into);
            into.push_str("}\n");
            continue;
        }
        let (says, after) = rest.split_once('}').unwrap_or((rest, ""));
        if !selectors.starts_with('@') {
            let scoped: Vec<String> = selectors.split(',').map(scoped).collect();
            into.push_str(&format!("{} {{{says}}}\n", scoped.join(", ")));
        }
        sheet = after;
    }
    sheet.split_once('}').map_or("", |(_, after)| after)
}

fn scoped(selector: &str) -> String {
    match selector.trim() {
        ":root" | "body" => format!(".{CLASS}"),
        selector => format!(".{CLASS} {selector}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_reach_nothing_outside() {
        let sheet = ":root { --a: 1; }\n* { b: c; }\nth, td { d: e; }\n@page { margin: 1mm; }\n\
            @media print { .x { f: g; } .y > p:nth-child(8n) { h: i; } }\np { j: k; }\n@media screen {\nbody { l: m; }\n}\n";
        let mut made = String::new();
        assert_eq!(scope(sheet, &mut made), "");
        assert_eq!(
            made,
            ".cellrules { --a: 1; }\n.cellrules * { b: c; }\n.cellrules th, .cellrules td { d: e; }\n\
             @media print {\n.cellrules .x { f: g; }\n.cellrules .y > p:nth-child(8n) { h: i; }\n}\n\
             .cellrules p { j: k; }\n@media screen {\n.cellrules { l: m; }\n}\n"
        );
    }

    #[test]
    fn ids_are_its_own() {
        let body = "<p id=\"a\" aria-labelledby=\"a b\" fill=\"url(#c)\">id=a url(#d)</p>";
        assert_eq!(
            with_own_ids(body, "x-"),
            "<p id=\"x-a\" aria-labelledby=\"x-a x-b\" fill=\"url(#x-c)\">id=a url(#d)</p>"
        );
    }
}
