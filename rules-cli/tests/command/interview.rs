//! The interview: through a pseudo-terminal from nothing to a pass, and without a terminal.

use crate::running::Folder;

#[test]
fn without_a_terminal_nothing_is_asked_and_nothing_written() {
    let folder = Folder::new();
    let ran = folder.run(&["interview", "torch.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.whole());
    assert!(ran.err.contains("needs a terminal"), "{}", ran.err);
    assert!(!folder.path().join("torch.yaml").exists());
}

#[cfg(unix)]
mod in_a_terminal {
    use rexpect::session::{PtySession, spawn_command};
    use serde_json::Value;

    use super::Folder;

    /// A question is told by its place, and how far the interview is.
    const QUESTION: &str = r"[a-z_]\S* +(?:[a-z]+, )?\d+ of about \d+|Enter ends";
    const SLOWEST: u64 = 20_000;

    fn interview(folder: &Folder, args: &[&str]) -> PtySession {
        let mut command = folder.command();
        command.arg("interview").args(args).env("NO_COLOR", "1");
        spawn_command(command, Some(SLOWEST)).expect("a pseudo-terminal")
    }

    /// What the demo says at a place; of what one word says, that.
    fn answer(demo: &Value, place: &str) -> String {
        match place {
            "cells" => return "M2".to_owned(),
            "packs" => return "P-drill-3".to_owned(),
            "cells[M2].look" => return "sound".to_owned(),
            "cells[M2].past" => return "uneventful".to_owned(),
            "cells[M2].source" => return "bare-from-pack".to_owned(),
            "light.fit" => return "springs-alone".to_owned(),
            "charging.leaflet" => return "self-stopping-bays".to_owned(),
            "charging.site" => return "watched".to_owned(),
            "conditions.goes_away" => return "never".to_owned(),
            _ => {}
        }
        let pointer = place
            .replace("[M2]", "/0")
            .replace("[P-drill-3]", "/0")
            .replace('.', "/");
        match demo.pointer(&format!("/{pointer}")) {
            Some(Value::String(text)) => text.clone(),
            Some(value @ Value::Number(_)) => value.to_string(),
            _ => "?".to_owned(),
        }
    }

    /// The places that one question asks for: its own, or those of the parts that it lists.
    fn parts(place: &str, text: &str) -> Vec<String> {
        let keys = text.lines().filter_map(|line| {
            let (key, _) = line.strip_prefix("  ")?.split_once(": ")?;
            let is_key = |letter: char| letter.is_ascii_lowercase() || "_3750m".contains(letter);
            key.chars().all(is_key).then(|| format!("{place}.{key}"))
        });
        let keys: Vec<String> = keys.collect();
        match text.contains("with commas between") {
            true => keys,
            false => vec![place.to_owned()],
        }
    }

    /// What was asked in an interview, by the places of each question, and all that was said.
    struct Held {
        asked: Vec<Vec<String>>,
        said: String,
        page: String,
    }

    /// Answers until nothing else is asked.
    fn held(mut session: PtySession, answer: impl Fn(&str) -> String) -> Held {
        let (mut asked, mut said) = (Vec::new(), String::new());
        loop {
            let (before, question) = session.exp_regex(QUESTION).expect("a question");
            said += &(before + &question);
            if question == "Enter ends" {
                break;
            }
            let text = session.exp_string("> ").expect("a prompt");
            let place = question.split_whitespace().next().expect("its place");
            let places = parts(place, &text);
            assert!(!asked.contains(&places), "{places:?} is asked again");
            let answers: Vec<String> = places.iter().map(|place| answer(place)).collect();
            session.send_line(&answers.join(", ")).expect("an answer");
            said += &text;
            asked.push(places);
        }
        session.exp_string("> ").expect("a prompt");
        session.send_line("").expect("the end");
        let page = session.exp_eof().expect("the first page");
        Held { asked, said, page }
    }

    fn passes(folder: &Folder, plan: &str, held: &Held) {
        assert!(held.page.contains("PASS"), "{}", held.page);
        let ran = folder.run(&["check", plan]);
        assert_eq!(ran.code, 0, "{}", ran.whole());
        assert!(ran.out.starts_with("PASS"), "{}", ran.out);
    }

    /// The answers are those of the demo that an expert's verdict passes. How many there are shows in
    /// the output of the test.
    #[test]
    fn from_nothing_to_a_pass() {
        let demo: Value =
            serde_json::from_str(include_str!("../../demo/marshal-torch.json")).expect("JSON");
        let folder = Folder::new();
        let session = interview(&folder, &["torch.yaml"]);
        let held = held(session, |place| answer(&demo, place));
        passes(&folder, "torch.yaml", &held);
        assert_quoted_is_said(&held.said, 0);
        println!(
            "{} questions from an empty file to a pass",
            held.asked.len()
        );
        assert_eq!(held.asked.first(), Some(&vec!["title".to_owned()]));
        let places = held.asked.concat().len();
        assert!(
            held.asked.len() < places,
            "what is read off together is asked at once"
        );
        assert!(places < 76, "fewer than a check of the names alone asks");
    }

    /// The demo bench of the club.
    fn club() -> Folder {
        let files = [
            ("bench.yaml", include_str!("../../demo/club/bench.yaml")),
            ("cells.csv", include_str!("../../demo/club/cells.csv")),
            ("readings.csv", include_str!("../../demo/club/readings.csv")),
        ];
        let folder = Folder::new();
        std::fs::create_dir(folder.path().join("club")).expect("a folder");
        std::fs::create_dir(folder.path().join("plans")).expect("a folder");
        for (name, text) in files {
            std::fs::write(folder.path().join("club").join(name), text).expect("a file");
        }
        folder
    }

    #[test]
    fn from_a_bench_to_a_pass() {
        let demo: Value =
            serde_json::from_str(include_str!("../../demo/marshal-torch.json")).expect("JSON");
        let of_bench = |place: &str| match place {
            "light" => "marshal-torch".to_owned(),
            "cells" => "M2".to_owned(),
            "charging.of" => "four-bay".to_owned(),
            "charging.at" => "clubhouse".to_owned(),
            _ => answer(&demo, place),
        };
        let folder = club();
        let plan = "plans/torch.yaml";
        let session = interview(&folder, &["--bench", "club/bench.yaml", plan]);
        let held = held(session, of_bench);
        passes(&folder, plan, &held);
        assert_quoted_is_said(&held.said, 1);
        println!("{} questions from a bench to a pass", held.asked.len());
        let first = ["title", "light", "cells", "charging.of", "charging.at"];
        let asked = held.asked.concat();
        assert_eq!(asked.get(..5), Some(&first.map(str::to_owned)[..]));
        // What is asked besides is of this use alone.
        let rest = asked.iter().skip(5);
        let rest: Vec<_> = rest
            .filter(|place| !place.starts_with("conditions."))
            .collect();
        assert!(rest.is_empty(), "{rest:?}");
        let written = std::fs::read_to_string(folder.path().join(plan)).expect("the plan");
        assert!(written.contains("bench: ../club/bench.yaml"), "{written}");
    }

    /// A plan that was begun by hand and names its bench goes on with it, and no other.
    #[test]
    fn a_plan_begun_with_a_bench_goes_on_with_it() {
        let folder = club();
        let plan = "club/torch.yaml";
        let begun = "format: 1\ntitle: T\nbench: ./bench.yaml\nlight: helmet-lamp\n";
        std::fs::write(folder.path().join(plan), begun).expect("a file");
        let said = interview(&folder, &["-b", "club/bench.yaml", plan]);
        let said = { said }.exp_eof().expect("why");
        assert!(said.contains("names its bench already"), "{said}");
        let mut session = interview(&folder, &[plan]);
        let said = session.exp_string("> ").expect("a prompt");
        assert!(said.contains("M2 (marshal-torch)"), "{said}");
        assert!(said.contains("now in it: K4, K7"), "{said}");
        session.send_line("K4 K77").expect("an answer");
        session.exp_string("has no cell `K77`").expect("why not");
        session.exp_string("> ").expect("the prompt again");
        session.send_line("K4 M2").expect("an answer");
        session.exp_regex(QUESTION).expect("the next question");
        session.send_control('d').expect("the end of input");
        session.exp_eof().expect("the end");
        let written = std::fs::read_to_string(folder.path().join(plan)).expect("the plan");
        assert!(
            written.contains("- K4\n") && written.contains("- M2\n"),
            "{written}"
        );
    }

    #[test]
    fn a_bench_that_is_none_is_told_before_anything_is_asked() {
        let folder = Folder::with("broken.yaml", "format: 1\nbench: B\nlights: 3\n");
        for (bench, why) in [
            ("nowhere.yaml", "nowhere.yaml"),
            ("broken.yaml", "broken.yaml:3:9"),
        ] {
            let said = interview(&folder, &["--bench", bench, "torch.yaml"]);
            let said = { said }.exp_eof().expect("why");
            assert!(said.contains("error") && said.contains(why), "{said}");
            assert!(!folder.path().join("torch.yaml").exists());
        }
    }

    /// What the page of the project quotes of an interview, but for the numbers, which change with the
    /// rules. A packed crate has no such page.
    fn assert_quoted_is_said(said: &str, transcript: usize) {
        let Ok(page) =
            std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../README.md"))
        else {
            return;
        };
        let words = |text: &str| {
            let text = text.replace(|letter: char| letter.is_ascii_digit(), "");
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let (_, quoted) = page.split_once("## An interview").expect("its section");
        let quoted = quoted.split("```").nth(2 * transcript + 1);
        let quoted = quoted.expect("a transcript");
        let lines = quoted.trim_start_matches("text").lines();
        let said = words(said);
        for line in lines.filter(|line| !line.is_empty() && !line.starts_with('>')) {
            assert!(said.contains(&words(line)), "`{line}` is not said: {said}");
        }
    }

    #[test]
    fn a_file_with_comments_is_left_alone() {
        let text = "format: 1\ntitle: T # mine\narrangement: 1S1P\ncells: [{ id: K4 }]\n";
        let folder = Folder::with("torch.yaml", text).and("there.yaml", "");
        let said = interview(&folder, &["torch.yaml"]).exp_eof().expect("why");
        assert!(
            said.contains("has comments") && said.contains("--out"),
            "{said}"
        );
        let said = interview(&folder, &["torch.yaml", "-o", "there.yaml"]);
        let said = { said }.exp_eof().expect("why");
        assert!(said.contains("is there already"), "{said}");
        let mut session = interview(&folder, &["torch.yaml", "-o", "new.yaml"]);
        session.exp_string("> ").expect("a prompt");
        session.send_control('d').expect("the end of input");
        session.exp_eof().expect("the end");
        let read = |name| std::fs::read_to_string(folder.path().join(name)).expect("a file");
        assert_eq!(read("torch.yaml"), text);
        let plain = "format: 1\ntitle: T\narrangement: 1S1P\ncells:\n  - id: K4\n";
        assert_eq!(read("new.yaml"), plain);
    }
}
