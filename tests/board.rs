//! The board without a browser: its session on a real disk, and its server asked by those who should not be answered.

#[path = "board/numbers.rs"]
mod numbers;
#[path = "board/several.rs"]
mod several;
#[path = "board/taken.rs"]
mod taken;
#[path = "board/turned.rs"]
mod turned;

use panelwright::board::{Board, Drag, Journal, Options, Saved, Session};
use panelwright::check::Findings;
use panelwright::edit::{Edit, Refusal};
use panelwright::geom::Vec2;
use panelwright::panel::Panel;
use panelwright::resolve::Catalogue;
use panelwright::units::{Length, Unit};
use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

const PANEL: &str = r#"{
  "format": 1, "panel": "Board test", "unit": "mm",
  "note": "spaces   and order stay",
  "sheet": { "material": "6061-T6", "thickness": 2, "new": true, "outline": "M 0 0 H 400 V 150 H 0 Z" },
  "place": [
    { "id": "one", "instrument": "vent/60mm", "at": [60,  75] },
    { "id": "two", "instrument": "vent/60mm", "right-of": "one", "pitch": "4 in" },
    { "id": "far", "instrument": "vent/60mm", "mirror-of": "one", "about": 200 }
  ]
}
"#;

struct Desk(PathBuf);

impl Desk {
    fn new(name: &str) -> Desk {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("board-{name}"));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("p.json"), PANEL).unwrap();
        Desk(folder)
    }

    fn path(&self) -> String {
        self.0.join("p.json").to_str().unwrap().to_string()
    }

    fn open(&self) -> Session {
        Session::open(&self.path(), Catalogue::builtin()).unwrap()
    }

    fn text(&self) -> String {
        fs::read_to_string(self.path()).unwrap()
    }
}

fn ids(id: &str) -> Vec<String> {
    vec![id.to_string()]
}

fn at(s: &Session, id: &str) -> (f64, f64) {
    let p = s.panel.subjects[s.panel.find(id).unwrap()].at;
    (p.x, p.y)
}

#[test]
fn a_relation_survives_and_what_follows_it_comes_along() {
    let desk = Desk::new("relation");
    let mut s = desk.open();
    s.shift(&ids("one"), Vec2::new(2.0, -1.5), false).unwrap();
    assert_eq!((at(&s, "one"), at(&s, "two")), ((62.0, 73.5), (163.6, 73.5)));
    s.shift(&ids("two"), Vec2::new(25.4, 0.0), false).unwrap();
    assert_eq!(s.save(false).unwrap(), Saved::Done);
    let want = PANEL.replace("[60,  75]", "[62, 73.5]").replace("\"4 in\"", "\"5 in\"");
    assert_eq!(desk.text(), want);
    // two at once: the second follows the first already
    let both = vec!["one".to_string(), "two".to_string()];
    s.shift(&both, Vec2::new(1.0, 0.0), false).unwrap();
    assert_eq!(s.text(), want.replace("[62, 73.5]", "[63, 73.5]"));
    s.close();
}

#[test]
fn what_no_number_says_is_asked_before_it_becomes_coordinates() {
    let desk = Desk::new("asks");
    let mut s = desk.open();
    assert!(matches!(s.shift(&ids("far"), Vec2::new(3.0, 0.0), false), Err(Refusal::NoNumber(_))));
    assert_eq!(s.text(), PANEL);
    s.shift(&ids("far"), Vec2::new(3.0, 0.0), true).unwrap();
    assert_eq!(s.text(), PANEL.replace("\"mirror-of\": \"one\", \"about\": 200", "\"at\": [343, 75]"));
    s.edit(&Edit::Flag { id: "one".into(), key: "locked", is: true }).unwrap();
    assert!(matches!(s.shift(&ids("one"), Vec2::new(1.0, 0.0), true), Err(Refusal::Words(_))));
    assert!(matches!(s.shift(&ids("none"), Vec2::new(1.0, 0.0), true), Err(Refusal::Words(_))));
    // what the file would not stand is refused and changes nothing
    let before = s.text().to_string();
    assert!(s.edit(&Edit::Delete { id: "one".into() }).is_err(), "two stands beside it");
    assert_eq!(s.text(), before);
}

#[test]
fn a_fraction_is_kept_as_it_was_typed_and_every_step_comes_back() {
    let desk = Desk::new("undo");
    let mut s = desk.open();
    let at = ["3 1/8 in", "75"].map(|t| Length::parse(t, Some(Unit::Millimetre)).unwrap());
    s.edit(&Edit::Put { id: "one".into(), at }).unwrap();
    assert_eq!(s.text(), PANEL.replace("[60,  75]", "[\"3 1/8 in\", 75]"));
    for k in 0..40 {
        s.shift(&ids("one"), Vec2::new(0.25, if k % 2 == 0 { 0.5 } else { -0.5 }), false).unwrap();
    }
    assert_eq!(s.steps(), (41, 0));
    let last = s.text().to_string();
    for _ in 0..41 {
        s.undo().unwrap();
    }
    assert_eq!((s.text(), s.steps()), (PANEL, (0, 41)));
    assert!(!s.is_changed());
    for _ in 0..50 {
        s.redo().unwrap();
    }
    assert_eq!((s.text(), s.steps()), (last.as_str(), (41, 0)));
}

#[test]
fn what_was_not_saved_is_offered_after_a_crash() {
    let desk = Desk::new("crash");
    let mut s = desk.open();
    s.shift(&ids("one"), Vec2::new(1.0, 0.0), false).unwrap();
    s.shift(&ids("one"), Vec2::new(1.0, 0.0), false).unwrap();
    let reached = s.text().to_string();
    // one board at a time has a file
    assert!(Session::open(&desk.path(), Catalogue::builtin()).is_err());
    drop(s);
    // and the line that was being written is cut short
    let journal = Journal::path_of(Path::new(&desk.path()));
    fs::OpenOptions::new().append(true).open(&journal).unwrap().write_all(b"{\"base\": \"12").unwrap();
    let mut s = desk.open();
    assert_eq!(s.text(), PANEL);
    assert!(s.offer().unwrap().contains("2 changes"), "{:?}", s.offer());
    // going on would give them up: that is said first
    assert!(matches!(s.shift(&ids("one"), Vec2::new(5.0, 0.0), false), Err(Refusal::Words(_))));
    assert!(s.save(true).is_err() && s.undo().is_err());
    assert!(s.offer().is_some() && s.text() == PANEL);
    s.answer_offer(true).unwrap();
    assert_eq!((s.text(), s.offer()), (reached.as_str(), None));
    s.undo().unwrap();
    s.undo().unwrap();
    assert_eq!(s.text(), PANEL);
    s.redo().unwrap();
    s.redo().unwrap();
    s.save(false).unwrap();
    s.close();
    drop(s);
    assert!(!journal.exists());
    assert_eq!(desk.text(), reached);
    let mut s = desk.open();
    assert_eq!(s.offer(), None);
    s.shift(&ids("one"), Vec2::new(1.0, 0.0), false).unwrap();
    drop(s);
    let mut s = desk.open();
    assert!(s.edit(&Edit::Turn { id: "one".into(), to: 90.0 }).is_err());
    s.answer_offer(false).unwrap();
    assert_eq!((s.offer(), s.text()), (None, reached.as_str()));
    drop(s);
    assert_eq!(desk.open().offer(), None, "given up is given up");
}

#[test]
fn what_somebody_else_wrote_is_never_replaced_silently() {
    let desk = Desk::new("conflict");
    let mut s = desk.open();
    s.shift(&ids("one"), Vec2::new(1.0, 0.0), false).unwrap();
    let theirs = PANEL.replace("Board test", "Theirs");
    fs::write(desk.path(), &theirs).unwrap();
    assert!(s.is_changed_on_disk());
    assert_eq!(s.save(false).unwrap(), Saved::Conflict);
    assert_eq!(desk.text(), theirs);
    s.reload().unwrap();
    assert_eq!((s.text(), s.is_changed_on_disk(), s.is_changed()), (theirs.as_str(), false, false));
    // mine can be had back
    s.undo().unwrap();
    assert_eq!(at(&s, "one").0, 61.0);
    assert_eq!(s.save(true).unwrap(), Saved::Done);
    assert_eq!(desk.text(), PANEL.replace("[60,  75]", "[61, 75]"));
}

/// A panel on one that is there already: its items move without a question where they stood by coordinates.
#[test]
fn what_was_there_already_counts_as_moved_under_the_hand() {
    let desk = Desk::new("inherited");
    let found = PANEL.replace("\"new\": true, ", "").replace("Board test", "As found");
    fs::write(desk.0.join("found.json"), found).unwrap();
    let built = "{\n  \"format\": 1, \"panel\": \"Built on it\", \"unit\": \"mm\",\n  \"builds-on\": \"found.json\"\n}\n";
    fs::write(desk.path(), built).unwrap();
    let mut s = desk.open();
    let mut d = Drag::of(&s, &ids("one")).unwrap().asking(true);
    assert_eq!(d.asks, None);
    let by = Vec2::new(7.0, -4.0);
    let (panel, held) = d.to(by);
    let said = |p: &Panel, f: &Findings| {
        let mut all: Vec<_> =
            f.list.iter().map(|f| format!("{} {:?} {:?}", f.id(p), f.verdict, f.measured)).collect();
        all.sort();
        all
    };
    let under = said(panel, held);
    s.shift(&ids("one"), by, false).unwrap();
    assert_eq!(
        under,
        said(&s.panel, &s.findings),
        "what was told under the hand is what is told when it is let go"
    );
    assert!(s.text().contains("\"one\": { \"at\": [67, 71] }"), "{}", s.text());
    // what stands beside it by a relation follows, and is asked about when it is moved itself
    assert_eq!(at(&s, "two"), (168.6, 71.0));
    assert!(Drag::of(&s, &ids("two")).unwrap().asks.is_some());
}

/// A server with its port, and what stops it.
struct Served {
    port: u16,
    token: String,
    stop: Arc<AtomicBool>,
    ran: Option<std::thread::JoinHandle<Result<(), String>>>,
    _desk: Desk,
}

impl Served {
    fn new(name: &str) -> Served {
        let desk = Desk::new(name);
        let board = Board::open(desk.open(), Options::default()).unwrap();
        let address = board.address();
        let rest = address.strip_prefix("http://127.0.0.1:").unwrap();
        let (port, token) = rest.trim_end_matches('/').split_once('/').unwrap();
        let (port, token) = (port.parse().unwrap(), token.to_string());
        let stop = Arc::new(AtomicBool::new(false));
        let asked = stop.clone();
        let ran = Some(std::thread::spawn(move || board.serve(move || asked.load(Ordering::SeqCst))));
        Served { port, token, stop, ran, _desk: desk }
    }

    /// Sends raw bytes and gives the status, 0 where the server hangs up without one, and all that came.
    fn raw(&self, bytes: &[u8]) -> (u16, String) {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(30))).unwrap();
        // a server that refuses need not read to the end
        let _ = stream.write_all(bytes);
        let mut answer = Vec::new();
        let _ = stream.read_to_end(&mut answer);
        let text = String::from_utf8_lossy(&answer).into_owned();
        (text.get(9..12).and_then(|s| s.parse().ok()).unwrap_or(0), text)
    }

    fn get(&self, path: &str, more: &str) -> (u16, String) {
        let host = format!("127.0.0.1:{}", self.port);
        let more = if more.contains("Host:") { more.to_string() } else { format!("Host: {host}\r\n{more}") };
        self.raw(format!("GET {path} HTTP/1.1\r\n{more}Connection: close\r\n\r\n").as_bytes())
    }

    fn works(&self) {
        let (status, text) = self.get(&format!("/{}/", self.token), "");
        assert!(status == 200 && text.contains("<title>Board</title>"), "{text}");
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::SeqCst);
        if let Some(ran) = self.ran.take() {
            let ended = ran.join();
            if !std::thread::panicking() {
                ended.unwrap().unwrap();
            }
        }
    }
}

const UPGRADE: &str = "Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n\
                       Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n";

#[test]
fn strangers_are_refused_and_the_server_stays_up() {
    let s = Served::new("hostile");
    s.works();
    let page = format!("/{}/", s.token);
    let wrong = format!("/{}/", "0".repeat(s.token.len()));
    for path in ["/", "/board.js", "//", wrong.as_str(), "/../p.json", "/%2e%2e/"] {
        assert_eq!(s.get(path, "").0, 403, "{path}");
    }
    for name in [
        "../p.json",
        "../../etc/passwd",
        "..%2fp.json",
        "%2e%2e/p.json",
        "p.json",
        "/etc/passwd",
        ".p.json.board-journal",
    ] {
        assert_eq!(s.get(&format!("{page}{name}"), "").0, 404, "{name}");
    }
    for host in ["evil.test", "127.0.0.1", "127.0.0.1:1", "0.0.0.0:80"] {
        assert_eq!(s.get(&page, &format!("Host: {host}\r\n")).0, 403, "{host}");
    }
    for origin in ["http://evil.test", "null", "https://127.0.0.1"] {
        assert_eq!(s.get(&page, &format!("Origin: {origin}\r\n")).0, 403, "{origin}");
    }
    let own = format!("http://127.0.0.1:{}", s.port);
    let socket = format!("{page}socket");
    assert_eq!(s.get(&socket, UPGRADE).0, 403, "a socket must say its origin");
    assert_eq!(s.get(&socket, &format!("Origin: http://evil.test\r\n{UPGRADE}")).0, 403);
    assert_eq!(s.get(&wrong.replace("/0", "/socket/0"), UPGRADE).0, 403);
    let post = |length: &str| {
        format!(
            "POST {page} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nOrigin: {own}\r\n{length}Connection: close\r\n\r\n",
            s.port
        )
    };
    assert_eq!(s.raw(post("").as_bytes()).0, 405);
    let mut big = post("Content-Length: 104857600\r\n").into_bytes();
    big.resize(big.len() + 100 * 1024 * 1024, b'x');
    let (status, _) = s.raw(&big);
    assert!(status == 413 || status == 0, "{status}");
    let (status, _) = s.raw(format!("{}ffffff\r\nx", post("Transfer-Encoding: chunked\r\n")).as_bytes());
    assert!(status == 413 || status == 0, "{status}");
    for junk in [&b"\x00\xff\xfe garbage\r\n\r\n"[..], b"GET", b"\r\n\r\n\r\n", &[b'A'; 100_000]] {
        let mut stream = TcpStream::connect(("127.0.0.1", s.port)).unwrap();
        let _ = stream.write_all(junk);
    }
    s.works();
    // all that the page gets is told to load nothing from elsewhere
    let (_, text) = s.get(&page, "");
    for head in [
        "content-security-policy: default-src 'none'",
        "x-content-type-options: nosniff",
        "referrer-policy: no-referrer",
        "frame-ancestors 'none'",
    ] {
        assert!(text.contains(head), "{head}\n{text}");
    }
}

#[test]
fn a_flood_is_turned_away_and_what_comes_after_is_served() {
    let s = Served::new("flood");
    let line = format!("GET /{}/none HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n\r\n", s.token, s.port);
    // pipelined on one connection; the last asks to close
    let all = line.repeat(20_000);
    let (_, text) = s.raw(format!("{all}GET / HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n").as_bytes());
    assert!(text.contains(" 404 ") || text.contains(" 429 "), "{}", text.len());
    std::thread::sleep(Duration::from_millis(1100));
    s.works();
}

#[test]
fn a_journal_that_is_too_long_is_refused_and_left_whole() {
    let desk = Desk::new("long");
    let journal = Journal::path_of(Path::new(&desk.path()));
    let long = 256 * 1024 * 1024 + 1;
    fs::File::create(&journal).unwrap().set_len(long).unwrap();
    let why = Session::open(&desk.path(), Catalogue::builtin()).err().unwrap().to_string();
    assert!(why.contains("too long") && why.contains("the last one last"), "{why}");
    assert_eq!(fs::metadata(&journal).unwrap().len(), long);
}
