//! The local server: one address on the loopback interface, the files of the page, one socket a page.

use super::answer::answer;
use super::arranging::Arranging;
use super::aside::{Aside, News, Tell, beside};
use super::drag::Drag;
use super::gate::Gate;
use super::listen;
use super::made::{self, Made};
use super::page;
use super::session::Session;
use axum::Router;
use axum::body::Body;
use axum::extract::ws::{Message, WebSocket, WebSocketUpgrade};
use axum::extract::{FromRequestParts, State};
use axum::http::{Method, Request, StatusCode, header};
use axum::response::{IntoResponse, Response};
use std::net::Ipv4Addr;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};
use tokio::net::TcpListener;
use tokio::sync::{Semaphore, broadcast};

/// Largest message of a page, bytes: some thousand items, each with its way.
const MOST_MESSAGE: usize = 256 * 1024;
/// The name of the socket behind the token.
const SOCKET: &str = "socket";
/// Begins the names of what is made of the panel as it stands.
const MADE: &str = "made/";
/// Pages at once.
const MOST_PAGES: usize = 16;
/// Requests a second of all pages together, and messages a second of each, after a burst of as many.
const MOST_A_SECOND: f64 = 2000.0;
/// What is made at once for requests, of all pages: the hand has a core of its own where there are some.
const MOST_MADE: usize = 3;
/// What a page has worked out beside its messages at once; it is heard again when one of them is told.
const MOST_LATER: usize = 8;
/// How often the file on the disk is looked at.
const LOOK: Duration = Duration::from_secs(1);

/// How it is opened.
#[derive(Clone, Copy, Debug, Default)]
pub struct Options {
    /// The port; 0: any that is free.
    pub port: u16,
}

/// So many requests a second and no more.
struct Rate {
    left: f64,
    since: Instant,
}

impl Rate {
    fn new() -> Rate {
        Rate { left: MOST_A_SECOND, since: Instant::now() }
    }

    fn takes(&mut self) -> bool {
        let now = Instant::now();
        self.left =
            (self.left + now.duration_since(self.since).as_secs_f64() * MOST_A_SECOND).min(MOST_A_SECOND);
        self.since = now;
        let fine = self.left >= 1.0;
        if fine {
            self.left -= 1.0;
        }
        fine
    }
}

struct Shared {
    gate: Gate,
    session: Mutex<Session>,
    rate: Mutex<Rate>,
    pages: AtomicUsize,
    making: Semaphore,
    news: broadcast::Sender<News>,
    arranging: Arc<Arranging>,
}

impl Shared {
    /// Runs something on the session; a panic of another page leaves it usable, as every change is made whole.
    fn with<T>(&self, run: impl FnOnce(&mut Session) -> T) -> T {
        run(&mut self.session.lock().unwrap_or_else(PoisonError::into_inner))
    }

    fn takes(&self) -> bool {
        self.rate.lock().unwrap_or_else(PoisonError::into_inner).takes()
    }
}

/// A board that listens.
pub struct Board {
    shared: Arc<Shared>,
    listener: std::net::TcpListener,
}

impl Board {
    /// Takes a port of the loopback interface.
    ///
    /// # Errors
    /// The port is taken, in words.
    pub fn open(session: Session, options: Options) -> Result<Board, String> {
        let words =
            |e: std::io::Error| format!("cannot listen on port {}: {e}; name another --port", options.port);
        let listener = std::net::TcpListener::bind((Ipv4Addr::LOCALHOST, options.port)).map_err(words)?;
        listener.set_nonblocking(true).map_err(words)?;
        let port = listener.local_addr().map_err(words)?.port();
        let (news, _) = broadcast::channel(16);
        let shared = Shared {
            gate: Gate::new(port)?,
            session: Mutex::new(session),
            rate: Mutex::new(Rate::new()),
            pages: AtomicUsize::new(0),
            making: Semaphore::new(MOST_MADE),
            news,
            arranging: Arc::default(),
        };
        Ok(Board { shared: Arc::new(shared), listener })
    }

    /// The page's address.
    pub fn address(&self) -> String {
        self.shared.gate.address()
    }

    /// Serves until `stopped` says so.
    ///
    /// # Errors
    /// The system's own, in words.
    pub fn serve(self, stopped: impl Fn() -> bool + Send + 'static) -> Result<(), String> {
        let words = |e: std::io::Error| format!("the server could not run: {e}");
        let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().map_err(words)?;
        let shared = self.shared.clone();
        let served = runtime.block_on(async {
            let listener = TcpListener::from_std(self.listener)?;
            let looked = self.shared.clone();
            tokio::spawn(async move {
                let mut was = false;
                loop {
                    tokio::time::sleep(LOOK).await;
                    let looks = looked.clone();
                    // neither a long answer nor a slow disk may stop the hands of all pages
                    let look = move || looks.with(|s| s.looks_at_disk())();
                    let Ok(now) = tokio::task::spawn_blocking(look).await else { continue };
                    if now != was {
                        // without a page nobody needs to know
                        let _ = looked.news.send(News::State);
                    }
                    was = now;
                }
            });
            let app = Router::new().fallback(one).with_state(self.shared.clone());
            let serve = listen::serve(listener, app, listen::PATIENCE);
            let stop = async move {
                while !stopped() {
                    tokio::time::sleep(Duration::from_millis(50)).await;
                }
            };
            tokio::select! { r = serve => r, () = stop => Ok(()) }
        });
        runtime.shutdown_timeout(Duration::from_secs(2));
        shared.arranging.stop();
        shared.with(|s| s.close());
        served.map_err(words)
    }
}

fn plain(status: StatusCode, words: &'static str) -> Response {
    (status, [(header::CONTENT_TYPE, "text/plain; charset=utf-8"), (header::CONNECTION, "close")], words)
        .into_response()
}

/// One request.
async fn one(State(shared): State<Arc<Shared>>, request: Request<Body>) -> Response {
    match judged(&shared, &request) {
        Ok(name) if name == SOCKET => socket(shared, request).await,
        Ok(name) if name.starts_with(MADE) => {
            let _room = shared.making.acquire().await;
            let asked = shared.clone();
            let made = move || {
                let work = asked.with(|s| made::made(s, name.strip_prefix(MADE).unwrap_or("")));
                work.map(|work| work())
            };
            match tokio::task::spawn_blocking(made).await {
                Ok(Some(Ok(m))) => given(m),
                Ok(Some(Err(why))) => secured((StatusCode::UNPROCESSABLE_ENTITY, why).into_response()),
                Ok(None) => plain(StatusCode::NOT_FOUND, "there is no such thing here\n"),
                Err(_) => plain(StatusCode::INTERNAL_SERVER_ERROR, "our own fault: please report it\n"),
            }
        }
        Ok(name) => match page::file(&name) {
            Some((_, kind, bytes)) => secured(([(header::CONTENT_TYPE, *kind)], *bytes).into_response()),
            None => plain(StatusCode::NOT_FOUND, "there is no such thing here\n"),
        },
        Err((status, words)) => plain(status, words),
    }
}

/// Who asks, and what for. A body is never read: nothing that is asked for has one.
fn judged(shared: &Shared, request: &Request<Body>) -> Result<String, (StatusCode, &'static str)> {
    let text = |name: header::HeaderName| request.headers().get(name).and_then(|v| v.to_str().ok());
    let has_body = text(header::CONTENT_LENGTH).is_some_and(|l| l != "0")
        || request.headers().contains_key(header::TRANSFER_ENCODING);
    if has_body {
        return Err((StatusCode::PAYLOAD_TOO_LARGE, "nothing here takes a body\n"));
    }
    if !shared.gate.is_host(text(header::HOST)) {
        return Err((StatusCode::FORBIDDEN, "this is not the name of this server\n"));
    }
    let Some(name) = shared.gate.behind(request.uri().path()) else {
        return Err((
            StatusCode::FORBIDDEN,
            "the address lacks its token: use the one that the program printed\n",
        ));
    };
    if !shared.gate.is_origin(text(header::ORIGIN), name == SOCKET) {
        return Err((StatusCode::FORBIDDEN, "a page of another origin asks\n"));
    }
    if request.method() != Method::GET {
        return Err((StatusCode::METHOD_NOT_ALLOWED, "GET alone is answered\n"));
    }
    // strangers are refused before: as many as they are, they take nothing of what the pages may ask
    if !shared.takes() {
        return Err((StatusCode::TOO_MANY_REQUESTS, "too many requests a second: wait a second\n"));
    }
    Ok(name.to_owned())
}

/// A file that was made, to keep or to show.
fn given(m: Made) -> Response {
    let mut response = secured(([(header::CONTENT_TYPE, m.kind)], m.bytes).into_response());
    let keep =
        m.name.and_then(|n| header::HeaderValue::from_str(&format!("attachment; filename=\"{n}\"")).ok());
    if let Some(keep) = keep {
        response.headers_mut().insert(header::CONTENT_DISPOSITION, keep);
    }
    response
}

/// The page may load nothing from elsewhere and be shown in nobody's frame.
fn secured(mut response: Response) -> Response {
    let policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; \
                  img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
    let all = [
        (header::CONTENT_SECURITY_POLICY, policy),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::CACHE_CONTROL, "no-store"),
        (header::HeaderName::from_static("cross-origin-resource-policy"), "same-origin"),
        (header::HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    ];
    for (name, value) in all {
        response.headers_mut().insert(name, header::HeaderValue::from_static(value));
    }
    response
}

async fn socket(shared: Arc<Shared>, request: Request<Body>) -> Response {
    let (mut parts, _) = request.into_parts();
    let upgrade = match WebSocketUpgrade::from_request_parts(&mut parts, &()).await {
        Ok(u) => u,
        Err(e) => return e.into_response(),
    };
    if shared.pages.fetch_add(1, Ordering::SeqCst) >= MOST_PAGES {
        shared.pages.fetch_sub(1, Ordering::SeqCst);
        return plain(StatusCode::SERVICE_UNAVAILABLE, "too many pages are open\n");
    }
    let upgrade = upgrade.max_message_size(MOST_MESSAGE).max_frame_size(MOST_MESSAGE);
    let failed = shared.clone();
    upgrade
        .on_failed_upgrade(move |_| {
            failed.pages.fetch_sub(1, Ordering::SeqCst);
        })
        .on_upgrade(move |s| async move {
            talk(&shared, s).await;
            shared.pages.fetch_sub(1, Ordering::SeqCst);
        })
}

/// Talks with a page until it leaves.
async fn talk(shared: &Arc<Shared>, mut socket: WebSocket) {
    let mut news = shared.news.subscribe();
    let drag: Arc<Mutex<Option<Drag>>> = Arc::default();
    let (ready, mut late) = tokio::sync::mpsc::channel(4);
    let mut rate = Rate::new();
    let room = Arc::new(Semaphore::new(MOST_LATER));
    let aside = Arc::new(Mutex::new(Aside::new(
        Tell::new(ready.clone()),
        shared.news.clone(),
        shared.arranging.clone(),
    )));
    // what runs or is offered already
    if socket.send(Message::Text(shared.arranging.told().to_string().into())).await.is_err() {
        return;
    }
    loop {
        let asked = tokio::select! {
            m = heard(&mut socket, &room) => match m {
                Some(Ok(Message::Close(_)) | Err(_)) | None => break,
                Some(Ok(_)) if !rate.takes() => break,
                Some(Ok(Message::Text(text))) => text.as_str().to_owned(),
                Some(Ok(_)) => continue,
            },
            v = late.recv() => match v {
                // to be answered in its turn, as if the page had asked it
                Some(v) if v.get("do").is_some() => v.to_string(),
                Some(v) => {
                    if socket.send(Message::Text(v.to_string().into())).await.is_err() {
                        break;
                    }
                    continue;
                }
                None => continue,
            },
            n = news.recv() => match n {
                Ok(News::State) | Err(broadcast::error::RecvError::Lagged(_)) => STATE.to_owned(),
                Ok(other) => {
                    let told = match other {
                        News::Arranging => shared.arranging.told().to_string(),
                        _ => r#"{ "kind": "layouts-changed" }"#.to_owned(),
                    };
                    if socket.send(Message::Text(told.into())).await.is_err() {
                        break;
                    }
                    continue;
                }
                Err(broadcast::error::RecvError::Closed) => break,
            },
        };
        let (on, held, aside) = (shared.clone(), drag.clone(), aside.clone());
        let work = tokio::task::spawn_blocking(move || {
            let mut held = held.lock().unwrap_or_else(PoisonError::into_inner);
            let mut aside = aside.lock().unwrap_or_else(PoisonError::into_inner);
            let a = on.with(|s| answer(s, &mut held, &mut aside, &asked));
            // letters take their time too: other pages wait for them no more than for the answer
            (a.own.map(|v| v.to_string()), a.changed, a.later)
        });
        // a fault in one answer ends this page's socket, not the server
        let Ok((own, changed, later)) = work.await else { break };
        if changed {
            let _ = shared.news.send(News::State);
        }
        if let Some(later) = later {
            let ready = ready.clone();
            let place = room.clone().try_acquire_owned();
            beside(move || {
                // a page that left wants no answer
                let _ = ready.blocking_send(later());
                drop(place);
            });
        }
        if let Some(text) = own
            && socket.send(Message::Text(text.into())).await.is_err()
        {
            break;
        }
    }
}

/// What the page says next, once there is room for what may be left to work out of it.
async fn heard(socket: &mut WebSocket, room: &Semaphore) -> Option<Result<Message, axum::Error>> {
    let _room = room.acquire().await;
    socket.recv().await
}

/// Asks for the whole state.
const STATE: &str = r#"{ "do": "state" }"#;
