//! Who is let in: a page of this server in a browser on this machine, by the address that was printed.

use super::answer::Refusal;
use super::request::{Head, Method};

/// The address that this server answers to.
pub(super) struct Door {
    port: u16,
    token: String,
}

impl Door {
    /// A door with a token that nobody can guess.
    pub(super) fn new(port: u16) -> Result<Self, getrandom::Error> {
        let mut bytes = [0; 16];
        getrandom::fill(&mut bytes)?;
        let token = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Self { port, token })
    }

    /// The address to open.
    pub(super) fn address(&self) -> String {
        format!("http://127.0.0.1:{}/{}/", self.port, self.token)
    }

    /// The path behind the token, for whom it is allowed.
    ///
    /// A name of another host that leads to this machine is told by `Host`, a page of elsewhere by
    /// `Origin` and `Sec-Fetch-Site`, which no script can set. What changes something needs one of
    /// these to be ours; no answer lets others read it.
    pub(super) fn admit<'h>(&self, head: &'h Head) -> Result<&'h str, Refusal> {
        let host = head.field("host")?;
        let origin = head.field("origin")?;
        let site = head.field("sec-fetch-site")?;
        let is_ours = |origin: &str| {
            let host = origin.strip_prefix("http://");
            host.is_some_and(|host| self.is_own(host))
        };
        let is_same = site == Some("same-origin");
        let is_allowed = match (head.method, origin) {
            (_, Some(origin)) if !is_ours(origin) => false,
            (Method::Post, None) => is_same,
            (Method::Post, Some(_)) => site.is_none() || is_same,
            (Method::Get, _) => true,
        };
        let path = self.behind_token(&head.target);
        match path {
            Some(path) if is_allowed && host.is_some_and(|host| self.is_own(host)) => Ok(path),
            _ => Err(Refusal::KEPT_OUT),
        }
    }

    fn is_own(&self, host: &str) -> bool {
        let name = host.strip_suffix(&format!(":{}", self.port));
        matches!(name, Some("127.0.0.1" | "localhost"))
    }

    fn behind_token<'h>(&self, target: &'h str) -> Option<&'h str> {
        let (token, path) = target.strip_prefix('/')?.split_once('/')?;
        is_same(token, &self.token).then_some(path)
    }
}

/// Compares all of two texts, so that how long it takes says nothing of where they differ.
fn is_same(one: &str, other: &str) -> bool {
    let pairs = one.bytes().zip(other.bytes());
    let differing = pairs.fold(0, |found, (one, other)| found | (one ^ other));
    one.len() == other.len() && differing == 0
}
