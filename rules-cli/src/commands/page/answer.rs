//! What is sent back: a status, a body, and the fields that keep a browser within bounds.

use std::borrow::Cow;
use std::io::{self, Write};

/// What a page that the browser may work on can load: files of this server, and nothing else.
const FORM: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; \
                    base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
/// A finished page holds its style and runs nothing.
const FINISHED: &str = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; \
                        form-action 'none'; frame-ancestors 'none'";

/// What a body is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A page of the form, or a part of one.
    Html,
    /// A page that stands by itself, to look at and to print.
    Finished,
    Style,
    Script,
    Text,
}

impl Kind {
    const fn content_type(self) -> &'static str {
        match self {
            Self::Html | Self::Finished => "text/html; charset=utf-8",
            Self::Style => "text/css; charset=utf-8",
            Self::Script => "text/javascript; charset=utf-8",
            Self::Text => "text/plain; charset=utf-8",
        }
    }
}

/// An answer to a request.
pub(super) struct Answer {
    status: u16,
    kind: Kind,
    body: Cow<'static, str>,
}

impl Answer {
    /// What was asked for.
    pub(super) fn of(kind: Kind, body: impl Into<Cow<'static, str>>) -> Self {
        Self {
            status: 200,
            kind,
            body: body.into(),
        }
    }

    /// A part of a page that says why nothing was done.
    pub(super) fn not_done(status: u16, html: String) -> Self {
        Self {
            status,
            kind: Kind::Html,
            body: html.into(),
        }
    }

    /// Writes it whole. Each connection has one request: to a page on the same machine a new one
    /// costs next to nothing, and none is kept open for others to wait for.
    pub(super) fn write(&self, stream: &mut impl Write) -> io::Result<()> {
        let policy = match self.kind {
            Kind::Finished => FINISHED,
            _ => FORM,
        };
        let head = format!(
            "HTTP/1.1 {} {}\r\nContent-Type: {}\r\nContent-Length: {}\r\nConnection: close\r\n\
             Content-Security-Policy: {policy}\r\nX-Content-Type-Options: nosniff\r\n\
             Referrer-Policy: no-referrer\r\nCache-Control: no-store\r\n\
             Cross-Origin-Resource-Policy: same-origin\r\n{}\r\n",
            self.status,
            reason(self.status),
            self.kind.content_type(),
            self.body.len(),
            match self.status {
                405 => "Allow: GET, POST\r\n",
                _ => "",
            },
        );
        let whole = [head.as_bytes(), self.body.as_bytes()].concat();
        stream.write_all(&whole)?;
        stream.flush()
    }
}

/// Why a request is not answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Refusal {
    status: u16,
    says: Cow<'static, str>,
}

impl Refusal {
    pub(super) const METHOD: Self = Self::new(405, "only GET and POST are answered");
    pub(super) const LENGTH: Self = Self::new(411, "say by `Content-Length` how long the body is");
    pub(super) const LARGE_BODY: Self = Self::new(413, "a body has 1 MiB at the most");
    pub(super) const LARGE_HEAD: Self = Self::new(431, "the head is too large");
    pub(super) const SLOW: Self = Self::new(408, "the request came too slowly");
    pub(super) const BUSY: Self = Self::new(503, "too many requests at once");
    pub(super) const NOTHING: Self = Self::new(404, "there is nothing here");
    /// One text for every reason: who guesses learns nothing.
    pub(super) const KEPT_OUT: Self = Self::new(403, "open the address that the command printed");

    const fn new(status: u16, says: &'static str) -> Self {
        Self {
            status,
            says: Cow::Borrowed(says),
        }
    }

    /// A request that cannot be understood.
    pub(super) fn bad(says: &str) -> Self {
        Self {
            status: 400,
            says: says.to_owned().into(),
        }
    }
}

impl From<Refusal> for Answer {
    fn from(refusal: Refusal) -> Self {
        Self {
            status: refusal.status,
            kind: Kind::Text,
            body: format!("{}\n", refusal.says).into(),
        }
    }
}

const fn reason(status: u16) -> &'static str {
    match status {
        200 => "OK",
        400 => "Bad Request",
        403 => "Forbidden",
        404 => "Not Found",
        405 => "Method Not Allowed",
        408 => "Request Timeout",
        409 => "Conflict",
        411 => "Length Required",
        413 => "Content Too Large",
        422 => "Unprocessable Content",
        431 => "Request Header Fields Too Large",
        503 => "Service Unavailable",
        _ => "Internal Server Error",
    }
}
