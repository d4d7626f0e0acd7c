//! A request as it comes in: its head first, and its body only when it is known to be wanted.
//!
//! Everything has a bound: the bytes and the fields of a head, the bytes of a body, and the time in
//! which the whole request must be there, however slowly it comes.

use std::io::{self, ErrorKind, Read};
use std::net::TcpStream;
use std::time::Instant;

use super::answer::Refusal;

/// The most bytes of a head.
const MOST_HEAD: usize = 16 << 10;
/// The most fields of a head.
const MOST_FIELDS: usize = 64;
/// The most bytes of a body.
pub(super) const MOST_BODY: usize = 1 << 20;

/// What is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Method {
    Get,
    Post,
}

/// All of a request but its body.
pub(super) struct Head {
    pub(super) method: Method,
    /// The path as it was sent.
    pub(super) target: String,
    fields: Vec<(String, Vec<u8>)>,
    /// What of the body came with the head.
    begun: Vec<u8>,
}

/// A request that was let in, with its path behind the token.
pub(super) struct Request {
    pub(super) method: Method,
    pub(super) path: String,
    pub(super) body: Vec<u8>,
}

/// A connection that must have sent everything by an instant.
pub(super) struct InTime<'s> {
    pub(super) stream: &'s TcpStream,
    pub(super) until: Instant,
}

impl Read for InTime<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let left = self.until.saturating_duration_since(Instant::now());
        if left.is_zero() {
            return Err(ErrorKind::TimedOut.into());
        }
        self.stream.set_read_timeout(Some(left))?;
        let mut stream = self.stream;
        stream.read(buffer)
    }
}

impl Head {
    /// Reads a head; none if nothing came at all.
    pub(super) fn read(stream: &mut impl Read) -> Result<Option<Self>, Refusal> {
        let mut bytes = Vec::new();
        loop {
            let mut piece = [0; 4096];
            let count = stream.read(&mut piece).map_err(broken)?;
            let new = piece.get(..count).unwrap_or_default();
            if new.is_empty() {
                return match bytes.is_empty() {
                    true => Ok(None),
                    false => Err(Refusal::bad("the head breaks off")),
                };
            }
            bytes.extend_from_slice(new);
            match Self::parsed(&bytes)? {
                Some(head) => return Ok(Some(head)),
                None if bytes.len() > MOST_HEAD => return Err(Refusal::LARGE_HEAD),
                None => {}
            }
        }
    }

    /// The head of these bytes, if all of it is there.
    fn parsed(bytes: &[u8]) -> Result<Option<Self>, Refusal> {
        let mut fields = [httparse::EMPTY_HEADER; MOST_FIELDS];
        let mut request = httparse::Request::new(&mut fields);
        let length = match request.parse(bytes) {
            Ok(httparse::Status::Complete(length)) => length,
            Ok(httparse::Status::Partial) => return Ok(None),
            Err(httparse::Error::TooManyHeaders) => return Err(Refusal::LARGE_HEAD),
            Err(error) => return Err(Refusal::bad(&format!("no request of HTTP/1.1: {error}"))),
        };
        let method = match request.method {
            Some("GET") => Method::Get,
            Some("POST") => Method::Post,
            _ => return Err(Refusal::METHOD),
        };
        let fields = request.headers.iter();
        Ok(Some(Self {
            method,
            target: request.path.unwrap_or_default().to_owned(),
            fields: fields
                .map(|field| (field.name.to_ascii_lowercase(), field.value.to_vec()))
                .collect(),
            begun: bytes.get(length..).unwrap_or_default().to_vec(),
        }))
    }

    /// The value of a field, in small letters its name. One that is there twice means nothing.
    pub(super) fn field(&self, name: &str) -> Result<Option<&str>, Refusal> {
        let mut all = self.fields.iter().filter(|(known, _)| known == name);
        let Some((_, value)) = all.next() else {
            return Ok(None);
        };
        if all.next().is_some() {
            return Err(Refusal::bad(&format!("`{name}` is there twice")));
        }
        let text = std::str::from_utf8(value);
        text.map(|text| Some(text.trim()))
            .map_err(|_| Refusal::bad(&format!("`{name}` is no text")))
    }

    /// How many bytes of body are announced.
    fn length(&self) -> Result<usize, Refusal> {
        if self.field("transfer-encoding")?.is_some() {
            return Err(Refusal::LENGTH);
        }
        let Some(text) = self.field("content-length")? else {
            return match self.method {
                Method::Get => Ok(0),
                Method::Post => Err(Refusal::LENGTH),
            };
        };
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        match text.parse() {
            _ if !digits => Err(Refusal::bad("`content-length` is no number")),
            Ok(length) if length <= MOST_BODY => Ok(length),
            _ => Err(Refusal::LARGE_BODY),
        }
    }

    /// Reads the body that belongs to it, if it is not too large.
    pub(super) fn body(&self, stream: &mut impl Read) -> Result<Vec<u8>, Refusal> {
        let length = self.length()?;
        if self.method == Method::Get && length > 0 {
            return Err(Refusal::bad("what is only asked for has no body"));
        }
        let mut body = self.begun.clone();
        if body.len() > length {
            return Err(Refusal::bad("more came than was announced"));
        }
        let begun = body.len();
        body.resize(length, 0);
        let rest = body.get_mut(begun..).unwrap_or_default();
        stream.read_exact(rest).map_err(broken)?;
        Ok(body)
    }
}

fn broken(error: io::Error) -> Refusal {
    match error.kind() {
        ErrorKind::TimedOut | ErrorKind::WouldBlock => Refusal::SLOW,
        _ => Refusal::bad("the request breaks off"),
    }
}
