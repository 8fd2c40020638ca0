//! Who may ask: only a page that this server gave out itself, on this machine. A page of another origin, or one whose name
//! was pointed at this machine, is refused.

/// What a request must say.
#[derive(Clone, Debug)]
pub struct Gate {
    token: String,
    hosts: [String; 2],
}

impl Gate {
    /// For a port, with a token that nobody can guess.
    ///
    /// # Errors
    /// The system gives no random bytes.
    pub fn new(port: u16) -> Result<Gate, String> {
        let mut bytes = [0u8; 24];
        getrandom::fill(&mut bytes).map_err(|e| format!("the system gives no random bytes: {e}"))?;
        let token = bytes.iter().map(|b| format!("{b:02x}")).collect();
        Ok(Gate { token, hosts: [format!("127.0.0.1:{port}"), format!("localhost:{port}")] })
    }

    /// The address of the page.
    pub fn address(&self) -> String {
        format!("http://{}/{}/", self.hosts[0], self.token)
    }

    /// What is asked for behind the token; `None` without the right one. Takes as long for any wrong token.
    pub fn behind<'a>(&self, path: &'a str) -> Option<&'a str> {
        let (token, rest) = path.strip_prefix('/')?.split_once('/')?;
        let (a, b) = (token.as_bytes(), self.token.as_bytes());
        let differ = a.iter().zip(b).fold(a.len() ^ b.len(), |d, (x, y)| d | usize::from(x ^ y));
        (differ == 0).then_some(rest)
    }

    /// Whether the request was made to this machine by its own name.
    pub fn is_host(&self, host: Option<&str>) -> bool {
        host.is_some_and(|h| self.hosts.iter().any(|own| own == h))
    }

    /// Whether a page of this server asks; a request that says no origin does only where none is demanded.
    pub fn is_origin(&self, origin: Option<&str>, demanded: bool) -> bool {
        match origin {
            Some(o) => o.strip_prefix("http://").is_some_and(|h| self.hosts.iter().any(|own| own == h)),
            None => !demanded,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_own_page_comes_through() {
        let g = Gate::new(4000).unwrap();
        let address = g.address();
        let path = address.strip_prefix("http://127.0.0.1:4000").unwrap();
        assert_eq!(path.len(), 48 + 2);
        assert_eq!(g.behind(path), Some(""));
        assert_eq!(g.behind(&format!("{path}socket")), Some("socket"));
        for wrong in ["", "/", "//", "/x/", "/socket", &path[..20], &path.replace(&path[5..6], "x")] {
            assert_eq!(g.behind(wrong), None, "{wrong}");
        }
        assert!(g.is_host(Some("127.0.0.1:4000")) && g.is_host(Some("localhost:4000")));
        for wrong in [
            None,
            Some("127.0.0.1"),
            Some("127.0.0.1:4001"),
            Some("evil.test:4000"),
            Some("127.0.0.1:4000.evil.test"),
        ] {
            assert!(!g.is_host(wrong), "{wrong:?}");
        }
        assert!(g.is_origin(Some("http://127.0.0.1:4000"), true) && g.is_origin(None, false));
        for wrong in [
            None,
            Some("null"),
            Some("https://127.0.0.1:4000"),
            Some("http://evil.test"),
            Some("http://127.0.0.1:80"),
        ] {
            assert!(!g.is_origin(wrong, true), "{wrong:?}");
        }
        assert_ne!(Gate::new(4000).unwrap().address(), address);
    }
}
