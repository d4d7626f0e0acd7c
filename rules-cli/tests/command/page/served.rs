//! The page, served for a test, and requests to it byte by byte.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Stdio};
use std::time::Duration;

use serde_json::Value;

use crate::running::Folder;

/// A page that is served until the test ends.
pub(super) struct Served {
    child: Child,
    pub(super) folder: Folder,
    pub(super) port: u16,
    pub(super) token: String,
}

impl Served {
    pub(super) fn of(folder: Folder) -> Self {
        let mut child = folder
            .command()
            .args(["page", "."])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the command");
        let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
        let address = lines.find_map(|line| {
            line.ok()?
                .trim()
                .strip_prefix("http://127.0.0.1:")
                .map(str::to_owned)
        });
        let address = address.expect("an address");
        let mut parts = address.split('/');
        let port = parts.next().and_then(|port| port.parse().ok());
        Self {
            child,
            folder,
            port: port.expect("a port"),
            token: parts.next().expect("a token").to_owned(),
        }
    }

    pub(super) fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(("127.0.0.1", self.port)).expect("a connection");
        let patience = Some(Duration::from_secs(20));
        stream.set_read_timeout(patience).expect("a time-out");
        stream
    }

    /// All that comes back for these bytes.
    pub(super) fn send(&self, request: &[u8]) -> String {
        let mut stream = self.connect();
        // Who is refused early may find the way closed behind the head.
        drop(stream.write_all(request));
        let mut answer = Vec::new();
        drop(stream.read_to_end(&mut answer));
        String::from_utf8_lossy(&answer).into_owned()
    }

    pub(super) fn host(&self) -> String {
        format!("127.0.0.1:{}", self.port)
    }

    pub(super) fn get(&self, path: &str) -> String {
        let (token, host) = (&self.token, self.host());
        self.send(format!("GET /{token}/{path} HTTP/1.1\r\nHost: {host}\r\n\r\n").as_bytes())
    }

    /// A request as the page sends it.
    pub(super) fn post(&self, path: &str, body: &Value) -> String {
        let (token, host, body) = (&self.token, self.host(), body.to_string());
        let length = body.len();
        let head = format!(
            "POST /{token}/{path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\n\
             Sec-Fetch-Site: same-origin\r\nContent-Length: {length}\r\n\r\n{body}"
        );
        self.send(head.as_bytes())
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

/// The status of an answer; 0 where none came.
pub(super) fn status(answer: &str) -> u16 {
    let status = answer.split(' ').nth(1);
    status.and_then(|status| status.parse().ok()).unwrap_or(0)
}

/// What stands behind the head.
pub(super) fn body(answer: &str) -> &str {
    answer.split_once("\r\n\r\n").map_or("", |(_, body)| body)
}
