//! Who is let in: connections in bounded number, and none that says nothing. Anybody on this machine can connect; half of a
//! request, or a thousand of them, must not keep the page out or leave no handle to read the panel's file with.

use axum::Router;
use hyper::server::conn::http1::Builder;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::io;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::sync::Semaphore;

/// Connections at once, sockets of pages aside. A page needs six; a process may often have 1024 handles, or 256.
const MOST: usize = 128;
/// How long the head of a request may take, and a connection may be silent before it.
pub const PATIENCE: Duration = Duration::from_secs(10);
/// From a connection that could not be taken, for want of handles as a rule, to the next try.
const AGAIN: Duration = Duration::from_millis(200);

/// Serves for ever. A connection that is one too many waits until one ends.
///
/// # Errors
/// None that is known: what fails is one connection.
pub async fn serve(listener: TcpListener, app: Router, patience: Duration) -> io::Result<()> {
    let room = Arc::new(Semaphore::new(MOST));
    let mut http = Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(patience);
    loop {
        let place = room.clone().acquire_owned().await.map_err(io::Error::other)?;
        let Ok((connection, _)) = listener.accept().await else {
            tokio::time::sleep(AGAIN).await;
            continue;
        };
        // an answer goes out at once: it would wait until the one before is acknowledged
        let _ = connection.set_nodelay(true);
        let service = TowerToHyperService::new(app.clone());
        let served = http.serve_connection(TokioIo::new(connection), service).with_upgrades();
        tokio::spawn(async move {
            // what somebody broke off is no fault of ours
            let _ = served.await;
            drop(place);
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{Read, Write};
    use std::net::TcpStream;

    #[test]
    fn half_requests_keep_nobody_out() {
        let own = std::net::TcpListener::bind(("127.0.0.1", 0)).unwrap();
        own.set_nonblocking(true).unwrap();
        let address = own.local_addr().unwrap();
        std::thread::spawn(move || {
            let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
            runtime.block_on(async {
                let app = Router::new().fallback(|| async { "here" });
                serve(TcpListener::from_std(own).unwrap(), app, Duration::from_millis(50)).await
            })
        });
        let connect = |says: &[u8]| {
            let mut c = TcpStream::connect(address).unwrap();
            // so that a server that waits for ever fails this test and not the whole run
            c.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
            c.write_all(says).unwrap();
            c
        };
        let mut all: Vec<TcpStream> = (0..2 * MOST).map(|_| connect(b"GET / HT")).collect();
        let mut said = String::new();
        let request = b"GET / HTTP/1.1\r\nHost: h\r\nConnection: close\r\n\r\n";
        connect(request).read_to_string(&mut said).unwrap();
        assert!(said.starts_with("HTTP/1.1 200") && said.ends_with("here"), "{said}");
        for c in &mut all {
            assert_eq!(c.read(&mut [0; 9]).unwrap_or(0), 0, "it is closed");
        }
    }
}
