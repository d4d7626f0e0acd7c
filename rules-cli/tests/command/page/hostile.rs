//! Requests that no page of ours sends, byte by byte, and what each gets.

use std::io::{Read, Write};
use std::time::{Duration, Instant};

use serde_json::json;

use super::served::{Served, body, status};
use crate::running::Folder;

const PLAN: &str = "format: 1\ntitle: Torch\narrangement: 1S1P\ncells: [{ id: K4 }]\n";

fn served() -> Served {
    Served::of(Folder::with("torch.yaml", PLAN))
}

/// A request with these fields besides `Host`, which is ours unless it is among them.
fn request(served: &Served, method: &str, path: &str, fields: &str, body: &str) -> Vec<u8> {
    let host = match fields.contains("Host:") {
        true => String::new(),
        false => format!("Host: {}\r\n", served.host()),
    };
    let fields = fields.replace("PORT", &served.port.to_string());
    let path = path.replace("TOKEN", &served.token);
    format!("{method} {path} HTTP/1.1\r\n{host}{fields}\r\n{body}").into_bytes()
}

const OURS: &str = "Origin: http://127.0.0.1:PORT\r\nSec-Fetch-Site: same-origin\r\n";

/// What is sent, by whom, and with which fields, `&` between: `^` are those that our page sends. Of a
/// body it is two brackets.
const KEPT_OUT: &str = "
no token                             | GET  | /                        |
no token, and a path                 | GET  | /plan/torch.yaml         |
a wrong token                        | GET  | /0123456789abcdef0123456789abcdef/ |
the start of the token               | GET  | /SHORT/                  |
the token and more                   | GET  | /TOKENa/                 |
a token alone                        | GET  | /TOKEN                   |
a foreign host                       | GET  | /TOKEN/                  | Host: lamps.example
a foreign host on our port           | GET  | /TOKEN/                  | Host: lamps.example:PORT
our address on another port          | GET  | /TOKEN/                  | Host: 127.0.0.1:1
our address without its port         | GET  | /TOKEN/                  | Host: 127.0.0.1
all addresses                        | GET  | /TOKEN/                  | Host: 0.0.0.0:PORT
an empty host                        | GET  | /TOKEN/                  | Host:
a foreign origin                     | GET  | /TOKEN/                  | Origin: http://lamps.example
an origin of nowhere                 | GET  | /TOKEN/                  | Origin: null
our origin by another scheme         | GET  | /TOKEN/                  | Origin: https://127.0.0.1:PORT
an address as a proxy gets it        | GET  | http://127.0.0.1/TOKEN/  |
a change of no origin                | POST | /TOKEN/do/check          | Content-Length: 2
a change of a foreign origin         | POST | /TOKEN/do/check          | Origin: http://lamps.example & Content-Length: 2
a change of another site             | POST | /TOKEN/do/check          | Origin: http://127.0.0.1:PORT & Sec-Fetch-Site: cross-site & Content-Length: 2
a change of another port of the site | POST | /TOKEN/do/check          | Sec-Fetch-Site: same-site & Content-Length: 2
a change without the token           | POST | /do/check                | ^ & Content-Length: 2
";

/// The same, with the status that each gets first.
const NO_REQUEST: &str = "
400 a second host              | GET     | /TOKEN/         | Host: 127.0.0.1:PORT & Host: lamps.example
405 DELETE                     | DELETE  | /TOKEN/plan/torch.yaml | ^
405 a question before another  | OPTIONS | /TOKEN/do/check | Origin: http://lamps.example & Access-Control-Request-Method: POST
405 CONNECT                    | CONNECT | lamps.example:443 |
405 a method of nobody         | BREW    | /TOKEN/         |
411 a body without its length  | POST    | /TOKEN/do/check | ^
411 chunks                     | POST    | /TOKEN/do/check | ^ & Transfer-Encoding: chunked
411 chunks and a length        | POST    | /TOKEN/do/check | ^ & Transfer-Encoding: chunked & Content-Length: 2
400 two lengths                | POST    | /TOKEN/do/check | ^ & Content-Length: 2 & Content-Length: 3
400 a length below nothing     | POST    | /TOKEN/do/check | ^ & Content-Length: -1
400 a length with a sign       | POST    | /TOKEN/do/check | ^ & Content-Length: +2
413 a length nobody counts     | POST    | /TOKEN/do/check | ^ & Content-Length: 99999999999999999999999
400 more than was announced    | POST    | /TOKEN/do/check | ^ & Content-Length: 1
400 a body where none belongs  | GET     | /TOKEN/         | Content-Length: 2
431 a head of 20 KiB           | GET     | /TOKEN/         | X: LONG
400 a question that is none    | POST    | /TOKEN/do/check | ^ & Content-Length: 2
404 a question of nobody       | POST    | /TOKEN/do/away  | ^ & Content-Length: 2
404 a page of nobody           | GET     | /TOKEN/away     |
";

/// The rows of a table, each as what it is called and what is sent.
fn rows(table: &'static str, served: &Served) -> Vec<(&'static str, Vec<u8>)> {
    let row = |line: &'static str| {
        let mut parts = line.split('|').map(str::trim);
        let mut part = || parts.next().unwrap_or_default();
        let (what, method, path, fields) = (part(), part(), part(), part());
        let fields = fields.split(" & ").filter(|field| !field.is_empty());
        let fields: String = fields
            .map(|field| match field {
                "^" => OURS.to_owned(),
                field => format!("{field}\r\n"),
            })
            .collect();
        let fields = fields.replace("LONG", &"a".repeat(20 << 10));
        let short: String = served.token.chars().take(8).collect();
        let body = if method == "GET" && !fields.contains("Length") {
            ""
        } else {
            "{}"
        };
        (
            what,
            request(
                served,
                method,
                &path.replace("SHORT", &short),
                &fields,
                body,
            ),
        )
    };
    let lines = table.lines().filter(|line| !line.is_empty());
    lines.map(row).collect()
}

#[test]
fn who_is_not_let_in_gets_one_answer() {
    let served = served();
    for (what, sent) in rows(KEPT_OUT, &served) {
        let answer = served.send(&sent);
        assert_eq!(status(&answer), 403, "{what}: {answer}");
        let same = "open the address that the command printed\n";
        assert_eq!(body(&answer), same, "{what}");
    }
}

#[test]
fn what_is_no_request_is_told_so() {
    let served = served();
    for (what, sent) in rows(NO_REQUEST, &served) {
        let answer = served.send(&sent);
        let wanted = what.get(..3).and_then(|status| status.parse().ok());
        assert_eq!(Some(status(&answer)), wanted, "{what}: {answer}");
    }
    let many = "X: a\r\n".repeat(100);
    let many = served.send(&request(&served, "GET", "/TOKEN/", &many, ""));
    assert_eq!(status(&many), 431, "a hundred fields: {many}");
    let other = served.send(b"\x16\x03\x01\x02\x00\r\n\r\n");
    assert_eq!(status(&other), 400, "a greeting of TLS: {other}");
    let chunks = format!("{OURS}Transfer-Encoding: chunked\r\n");
    let nonsense = "zz\r\nnonsense\r\n0\r\n\r\n";
    let chunks = served.send(&request(
        &served,
        "POST",
        "/TOKEN/do/check",
        &chunks,
        nonsense,
    ));
    assert_eq!(status(&chunks), 411, "chunks that are none: {chunks}");
}

#[test]
fn a_body_of_a_hundred_megabytes_is_refused_before_it_is_read() {
    let served = served();
    let mut stream = served.connect();
    let fields = format!("{OURS}Content-Length: {}\r\n", 100 << 20);
    let head = request(&served, "POST", "/TOKEN/do/check", &fields, "");
    stream.write_all(&head).expect("the head");
    // It answers though nothing of the body has come.
    let mut answer = String::new();
    stream.read_to_string(&mut answer).expect("an answer");
    assert_eq!(status(&answer), 413, "{answer}");
    // Of one that is sent all the same, the rest finds nobody: the sender gets no further than what
    // lies ready on the way.
    let mut stream = served.connect();
    stream.write_all(&head).expect("the head");
    let piece = vec![b' '; 1 << 20];
    let sent = (0..100)
        .take_while(|_| stream.write_all(&piece).is_ok())
        .count();
    assert!(sent < 100, "{sent} MiB were taken");
}

/// Names of files that no page of ours asks for; `ABSOLUTE` is the path of one outside.
const NAMES: [&str; 17] = [
    "../secret.yaml",
    "..%2fsecret.yaml",
    "%2e%2e%2fsecret.yaml",
    "..\\secret.yaml",
    "./torch.yaml",
    ".torch.yaml",
    "link.yaml",
    "way/secret.yaml",
    "torch.yaml%00",
    "torch.yaml%0a",
    "nul\0.yaml",
    "torch.yaml/..",
    "%ff%fe.yaml",
    "torch%",
    "passwd",
    "a.sh",
    "ABSOLUTE",
];

/// A folder with a plan, and with links to a file and to a folder outside, which comes with it.
fn with_ways_out() -> (Served, Folder) {
    let folder = Folder::with("torch.yaml", PLAN);
    let outside = Folder::with("secret.yaml", PLAN);
    #[cfg(unix)]
    for (to, name) in [
        (outside.path().join("secret.yaml"), "link.yaml"),
        (outside.path().into(), "way"),
    ] {
        std::os::unix::fs::symlink(to, folder.path().join(name)).expect("a link");
    }
    (Served::of(folder), outside)
}

#[test]
fn no_path_leads_out_of_the_folder() {
    let (served, outside) = with_ways_out();
    let secret = outside.path().join("secret.yaml");
    for name in NAMES.map(|name| name.replace("ABSOLUTE", &secret.display().to_string())) {
        for way in ["plan", "report", "bench", "sorted"] {
            let answer = served.get(&format!("{way}/{name}"));
            assert!(
                matches!(status(&answer), 400 | 404),
                "{way}/{name}: {answer}"
            );
        }
        let plan = json!({ "format": 1, "title": "T", "arrangement": "1S1P" });
        for what in ["check", "save", "forget"] {
            let sent = json!({ "name": name, "plan": plan, "digest": "", "about": "changed" });
            let answer = served.post(&format!("do/{what}"), &sent);
            // To forget what is not there is nothing.
            let is_nothing = what == "forget" || status(&answer) != 200;
            assert!(is_nothing, "{what} {name}: {answer}");
        }
    }
    let all = std::fs::read_dir(served.folder.path()).expect("the folder");
    let names = all.map(|entry| entry.expect("an entry").file_name().into_string());
    let mut names: Vec<String> = names.map(Result::unwrap).collect();
    names.sort();
    names.retain(|name| name != "link.yaml" && name != "way");
    assert_eq!(names, ["torch.yaml"]);
    assert_eq!(std::fs::read_to_string(secret).expect("it is there"), PLAN);
}

#[test]
fn a_plan_names_no_bench_outside_the_folder() {
    let (served, outside) = with_ways_out();
    let absolute = outside.path().join("secret.yaml").display().to_string();
    for bench in [
        "../secret.yaml",
        &absolute,
        "./way/secret.yaml",
        "./link.yaml",
    ] {
        let plan = json!({ "format": 1, "title": "T", "bench": bench, "arrangement": "1S1P" });
        let answer = served.post("do/check", &json!({ "name": "torch.yaml", "plan": plan }));
        assert_eq!(status(&answer), 422, "{bench}: {answer}");
        let says = ["no file in the folder", "there is no bench"];
        assert!(
            says.iter().any(|says| answer.contains(says)),
            "{bench}: {answer}"
        );
    }
}

#[test]
fn who_is_slow_keeps_nobody_waiting_and_is_told_to_go() {
    let served = served();
    let mut slow: Vec<_> = (0..8).map(|_| served.connect()).collect();
    for stream in &mut slow {
        stream.write_all(b"GET /a").expect("a part of a head");
    }
    let started = Instant::now();
    assert_eq!(status(&served.get("")), 200);
    assert!(
        started.elapsed() < Duration::from_secs(4),
        "{:?}",
        started.elapsed()
    );
    // A byte now and then does not keep the way open: the whole request has one time.
    let mut last = slow.pop().expect("one");
    for _ in 0..8 {
        std::thread::sleep(Duration::from_millis(800));
        if last.write_all(b"a").is_err() {
            break;
        }
    }
    let mut answer = String::new();
    drop(last.read_to_string(&mut answer));
    assert!(matches!(status(&answer), 408 | 0), "{answer}");
    assert!(
        started.elapsed() < Duration::from_secs(15),
        "{:?}",
        started.elapsed()
    );
}

#[test]
fn who_opens_hundreds_of_ways_keeps_nobody_out_for_long() {
    let served = served();
    let mut many: Vec<_> = (0..200).map(|_| served.connect()).collect();
    for stream in &mut many {
        // Those beyond what is held are gone already.
        drop(stream.write_all(b"GET /"));
    }
    let started = Instant::now();
    let mut answered = 0;
    while answered != 200 && started.elapsed() < Duration::from_secs(12) {
        answered = status(&served.get(""));
        std::thread::sleep(Duration::from_millis(100));
    }
    assert_eq!(answered, 200, "after {:?}", started.elapsed());
}

#[test]
fn every_answer_keeps_the_browser_within_bounds() {
    let served = served();
    for answer in [
        served.get(""),
        served.get("plan/torch.yaml"),
        served.get("page.css"),
        served.get("away"),
    ] {
        let head = answer.split("\r\n\r\n").next().unwrap_or_default();
        for field in [
            "Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'",
            "frame-ancestors 'none'",
            "X-Content-Type-Options: nosniff",
            "Referrer-Policy: no-referrer",
            "Cache-Control: no-store",
            "Cross-Origin-Resource-Policy: same-origin",
        ] {
            assert!(head.contains(field), "{field}: {head}");
        }
        assert!(!head.to_lowercase().contains("access-control"), "{head}");
    }
    let report = served.get("report/torch.yaml");
    let policy = "Content-Security-Policy: default-src 'none'; style-src 'unsafe-inline'; ";
    assert!(report.contains(policy), "{report}");
    let page = served.get("plan/torch.yaml");
    assert!(
        !body(&page).contains("<style") && !body(&page).contains(" style="),
        "{page}"
    );
    // Every script is a file of the server: none stands in the page.
    let scripts = |begin: &str| body(&page).matches(begin).count();
    assert!(scripts("<script") > 0, "{page}");
    assert_eq!(scripts("<script"), scripts("<script src=\"../"));
}

#[test]
fn text_of_a_plan_runs_nowhere() {
    let hostile = "format: 1\ntitle: '</main><script>alert(1)</script>'\narrangement: 1S1P\ncells: [{ id: '\"><img src=x>' }]\n";
    let served = Served::of(Folder::with("torch.yaml", hostile));
    let page = served.get("plan/torch.yaml");
    assert_eq!(status(&page), 200, "{page}");
    assert!(
        !page.contains("<script>alert") && !page.contains("<img"),
        "{page}"
    );
    let plan = json!({ "format": 1, "title": "<b>", "arrangement": "1S1P", "cells": [{ "id": "<i>" }], "<u>": 1 });
    let answer = served.post("do/check", &json!({ "name": "torch.yaml", "plan": plan }));
    assert!(
        !body(&answer).contains("<u>") && !body(&answer).contains("<i>"),
        "{answer}"
    );
}
