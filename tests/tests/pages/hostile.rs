//! No text of a plan becomes markup, and none turns around what stands beside it.

use super::setting::{all, checked, read, words};

const SCRIPT: &str = "</title></script><script>alert(1)</script>";

fn plan(title: &str, id: &str) -> String {
    let text = |text: &str| serde_json::Value::from(text).to_string();
    format!(
        "format: 1\ntitle: {}\narrangement: 1S1P\ncells: [{{ id: {}, rest: {{ voltage: 1.87 V, after: 24 h }} }}]\n",
        text(title),
        text(id)
    )
}

#[test]
fn a_title_stays_a_text() {
    for title in [
        SCRIPT,
        "\" onload=\"alert(1)",
        "'><svg onload=alert(1)>",
        "&lt;b&gt; &amp;",
    ] {
        let (report, page) = checked(&plan(title, "K4"));
        let page = read(&page);
        assert_eq!(&*report.title, title);
        assert_eq!(words(all(page.root(), "h1")[0]), title);
        assert_eq!(
            words(all(page.root(), "title")[0]),
            format!("refuse: {title}")
        );
        assert_eq!(all(page.root(), "script").len(), 0);
        assert!(
            page.descendants()
                .all(|one| one.attribute("onload").is_none())
        );
    }
}

#[test]
fn an_id_stays_a_text() {
    let id = "K4<b>\"'&";
    let rules = rulesets::shipped_rules().expect("the shipped rules load");
    // Where ids may not hold such letters there is no page to look at.
    let Ok(proposal) = rulesets::Proposal::from_text("plan.yaml", &plan("A torch", id)) else {
        return;
    };
    let report = rulesets::check(&rules, &proposal, rulesets::Options::default()).expect("one");
    let sheet = rulesets::figures(&rules, &proposal, rulesets::Options::default()).expect("one");
    let page = rulesets::pages::check(&report, &sheet, None).document();
    let page = read(&page);
    assert!(words(page.root()).contains(id));
    assert_eq!(all(page.root(), "b").len(), 0);
}

#[test]
fn the_name_of_a_file_stays_a_text() {
    let rules = rulesets::shipped_rules().expect("the shipped rules load");
    let name = "a<i>\u{202e}lmth.yaml";
    let proposal = rulesets::Proposal::from_text(name, &plan("A torch", "K4")).expect("a plan");
    let report = rulesets::check(&rules, &proposal, rulesets::Options::default()).expect("one");
    let sheet = rulesets::figures(&rules, &proposal, rulesets::Options::default()).expect("one");
    let page = rulesets::pages::check(&report, &sheet, None).document();
    assert!(!page.contains('\u{202e}'));
    let page = read(&page);
    assert!(words(all(page.root(), "header")[0]).contains("a<i>\\u{202e}lmth.yaml"));
    assert_eq!(all(page.root(), "i").len(), 0);
}
