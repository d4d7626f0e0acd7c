//! A server for one page on this machine.
//!
//! It stands on `httparse`, the parser under the HTTP of most of the ecosystem, which has no dependency,
//! and on threads. The small servers that block were looked at first: none of them bounds the time of
//! a whole request, and those that can refuse a large body read it to its end all the same. Those that
//! can do both bring an asynchronous runtime for a page that one person looks at.

use std::io::{self, Read, Write};
use std::net::{Ipv4Addr, Shutdown, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use super::answer::{Answer, Refusal};
use super::door::Door;
use super::request::{Head, InTime, Request};

/// The most connections at once: a browser opens six.
const MOST_AT_ONCE: usize = 32;
/// As many again are told that it is too much; beyond that nobody is even told.
const MOST_THREADS: usize = 2 * MOST_AT_ONCE;
const BREATH: Duration = Duration::from_millis(10);
/// How long a request may take to come in.
const PATIENCE: Duration = Duration::from_secs(5);
/// How much, and for how long, is still read of what is refused, so that its sender sees the answer.
const LEFTOVER: u64 = 64 << 10;
const FAREWELL: Duration = Duration::from_millis(300);

/// What answers requests that were let in.
pub(super) trait Site: Send + Sync + 'static {
    fn answer(&self, request: &Request) -> Answer;
}

/// A server that is bound and answers nobody yet.
pub(super) struct Server {
    listener: TcpListener,
    door: Door,
}

impl Server {
    /// Binds a port of this machine alone; 0 is any that is free.
    pub(super) fn bind(port: u16) -> io::Result<Self> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
        let port = listener.local_addr()?.port();
        let door = Door::new(port).map_err(io::Error::other)?;
        Ok(Self { listener, door })
    }

    /// The address to open.
    pub(super) fn address(&self) -> String {
        self.door.address()
    }

    /// Answers until the process ends.
    pub(super) fn serve(self, site: impl Site) -> io::Result<()> {
        let house = Arc::new(House {
            door: self.door,
            site,
            busy: AtomicUsize::new(0),
        });
        for stream in self.listener.incoming() {
            let Ok(stream) = stream else {
                // Who went away is nobody to tell; where the system has nothing left, others end first.
                thread::sleep(BREATH);
                continue;
            };
            let present = Present::of(Arc::clone(&house));
            if present.count > MOST_THREADS {
                continue;
            }
            // Without a thread for it a connection just ends.
            drop(
                thread::Builder::new()
                    .spawn(move || drop(present.house.meet(stream, present.count))),
            );
        }
        Ok(())
    }
}

/// What the threads share.
struct House<S> {
    door: Door,
    site: S,
    busy: AtomicUsize,
}

/// One that is being answered, counted until it is gone, however it goes.
struct Present<S> {
    house: Arc<House<S>>,
    /// How many there are with it.
    count: usize,
}

impl<S> Present<S> {
    fn of(house: Arc<House<S>>) -> Self {
        let count = house.busy.fetch_add(1, Ordering::AcqRel) + 1;
        Self { house, count }
    }
}

impl<S> Drop for Present<S> {
    fn drop(&mut self) {
        self.house.busy.fetch_sub(1, Ordering::AcqRel);
    }
}

impl<S: Site> House<S> {
    /// Answers one connection, of so many.
    fn meet(&self, mut stream: TcpStream, count: usize) -> io::Result<()> {
        stream.set_write_timeout(Some(PATIENCE))?;
        stream.set_nodelay(true)?;
        let answer = if count > MOST_AT_ONCE {
            Refusal::BUSY.into()
        } else {
            match self.hear(&stream) {
                Ok(Some(request)) => self.site.answer(&request),
                Ok(None) => return Ok(()),
                Err(refusal) => refusal.into(),
            }
        };
        answer.write(&mut stream)?;
        part(stream)
    }

    /// Reads a request of somebody who is let in. Who is not, is told so before any body is read.
    fn hear(&self, stream: &TcpStream) -> Result<Option<Request>, Refusal> {
        let until = Instant::now() + PATIENCE;
        let mut stream = InTime { stream, until };
        let Some(head) = Head::read(&mut stream)? else {
            return Ok(None);
        };
        let path = self.door.admit(&head)?.to_owned();
        let body = head.body(&mut stream)?;
        Ok(Some(Request {
            method: head.method,
            path,
            body,
        }))
    }
}

/// Ends a connection so that the answer arrives: what was sent and not read would cut it off.
fn part(mut stream: TcpStream) -> io::Result<()> {
    stream.flush()?;
    stream.shutdown(Shutdown::Write)?;
    let until = Instant::now() + FAREWELL;
    let rest = InTime {
        stream: &stream,
        until,
    };
    io::copy(&mut rest.take(LEFTOVER), &mut io::sink()).map(drop)
}
