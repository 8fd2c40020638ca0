//! What goes on beside the messages of a page: what takes its time is worked out in a thread of its own, on a copy of the
//! panel, and told when it comes. The session is not held meanwhile.

use super::answer::{Answer, refused};
use super::arranging::Arranging;
use super::session::Session;
use super::stood::Stood;
use crate::edit::Refusal;
use serde_json::Value;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use tokio::sync::{Semaphore, broadcast, mpsc};

/// What one page has worked out beside at once, at the most.
const MOST: usize = 8;

/// What is new for every page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum News {
    /// The panel as it stands.
    State,
    /// The layouts that are kept.
    Layouts,
    /// How an arrangement stands.
    Arranging,
}

/// A way to say something to one page.
#[derive(Clone)]
pub struct Tell(mpsc::Sender<Value>);

impl Tell {
    /// Through a channel that the page's socket reads.
    pub fn new(to: mpsc::Sender<Value>) -> Tell {
        Tell(to)
    }

    /// Says it and waits until the socket takes it; `false`: the page has left. Only from a thread of its own: the socket
    /// reads nothing while it waits for the answer to a message.
    pub fn say(&self, v: Value) -> bool {
        self.0.blocking_send(v).is_ok()
    }
}

/// Whether work that is done beside is still wanted. The newest work of its kind ends the one before, and a page that
/// leaves ends its own.
#[derive(Default)]
pub struct Wanted(Arc<AtomicBool>);

impl Wanted {
    /// Ends what was begun before and begins anew; gives what the new work asks now and then.
    pub fn anew(&mut self) -> impl Fn() -> bool + Send + use<> {
        self.no_more();
        let now = Arc::new(AtomicBool::new(true));
        self.0 = now.clone();
        move || now.load(Ordering::Relaxed)
    }

    /// Ends it.
    pub fn no_more(&mut self) {
        self.0.store(false, Ordering::Relaxed);
    }
}

impl Drop for Wanted {
    fn drop(&mut self) {
        self.no_more();
    }
}

/// What a page has beside its messages.
pub struct Aside {
    /// Says something to this page.
    pub tell: Tell,
    /// Says something to all.
    pub news: broadcast::Sender<News>,
    /// The one arrangement of all pages.
    pub arranging: Arc<Arranging>,
    /// Cards of the layouts.
    pub layouts: Wanted,
    /// What of the catalogue still fits.
    pub shelf: Wanted,
    room: Arc<Semaphore>,
}

impl Aside {
    /// Of a page that has just come.
    pub fn new(tell: Tell, news: broadcast::Sender<News>, arranging: Arc<Arranging>) -> Aside {
        let room = Arc::new(Semaphore::new(MOST));
        Aside { tell, news, arranging, layouts: Wanted::default(), shelf: Wanted::default(), room }
    }

    /// Works something out in a thread of its own, unless this page has too much worked out already.
    pub fn beside(&self, work: impl FnOnce() + Send + 'static) -> Answer {
        let Ok(place) = self.room.clone().try_acquire_owned() else {
            return refused(&Refusal::Words(
                "this page has as much worked out as it may at once: wait until it is told, and ask again"
                    .into(),
            ));
        };
        beside(move || {
            work();
            drop(place);
        });
        Answer::none()
    }
}

/// Works something out in a thread of its own, which gives way to the hand: its steps are answered first.
pub fn beside(work: impl FnOnce() + Send + 'static) {
    let last = move || {
        // by the system's own order of threads where it has one for each; what works for this one inherits it. Without
        // it the work is done all the same.
        #[cfg(target_os = "linux")]
        let _ = rustix::process::setpriority_process(None, LAST);
        work();
    };
    // where the system has no thread left nothing comes, as when the page leaves
    let _ = std::thread::Builder::new().name("beside".into()).spawn(last);
}

/// A nice value (setpriority(2)) that leaves a tenth of a core beside what is asked for now, so that it comes to an end.
#[cfg(target_os = "linux")]
const LAST: i32 = 10;

impl Session {
    /// A copy of the panel with its text, to be worked on beside.
    pub(super) fn copy(&self) -> Stood {
        Stood {
            path: self.path().into(),
            catalogue: self.shared_catalogue(),
            text: self.text().into(),
            panel: self.panel.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_work_alone_is_wanted() {
        let mut w = Wanted::default();
        let first = w.anew();
        assert!(first());
        let second = w.anew();
        assert!(!first() && second());
        w.no_more();
        assert!(!second());
        let third = w.anew();
        drop(w);
        assert!(!third());
    }
}
