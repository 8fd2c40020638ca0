//! What the page is made of, inside the program.

/// A file of the page: its name, its media type, its bytes.
pub type File = (&'static str, &'static str, &'static [u8]);

macro_rules! files {
    ($($name:literal $kind:literal $path:literal),* $(,)?) => {
        &[$(($name, $kind, include_bytes!(concat!("../../assets/", $path)))),*]
    };
}

const FILES: &[File] = files![
    "" "text/html; charset=utf-8" "board/index.html",
    "arrange.js" "text/javascript; charset=utf-8" "board/arrange.js",
    "board.css" "text/css; charset=utf-8" "board/board.css",
    "behind.css" "text/css; charset=utf-8" "board/behind.css",
    "behind.js" "text/javascript; charset=utf-8" "board/behind.js",
    "section.js" "text/javascript; charset=utf-8" "board/section.js",
    "drivers.js" "text/javascript; charset=utf-8" "board/drivers.js",
    "solid.js" "text/javascript; charset=utf-8" "board/solid.js",
    "solids.js" "text/javascript; charset=utf-8" "board/solids.js",
    "ink.js" "text/javascript; charset=utf-8" "board/ink.js",
    "vendor/three.js" "text/javascript; charset=utf-8" "board/vendor/three.js",
    "board.js" "text/javascript; charset=utf-8" "board/board.js",
    "desk.js" "text/javascript; charset=utf-8" "board/desk.js",
    "guide.js" "text/javascript; charset=utf-8" "board/guide.js",
    "hold.js" "text/javascript; charset=utf-8" "board/hold.js",
    "keys.js" "text/javascript; charset=utf-8" "board/keys.js",
    "pointers.js" "text/javascript; charset=utf-8" "board/pointers.js",
    "layouts.css" "text/css; charset=utf-8" "board/layouts.css",
    "layouts.js" "text/javascript; charset=utf-8" "board/layouts.js",
    "made.js" "text/javascript; charset=utf-8" "board/made.js",
    "photo-list.js" "text/javascript; charset=utf-8" "board/photo-list.js",
    "photo-picture.js" "text/javascript; charset=utf-8" "board/photo-picture.js",
    "photo-trace.js" "text/javascript; charset=utf-8" "board/photo-trace.js",
    "photo-under.js" "text/javascript; charset=utf-8" "board/photo-under.js",
    "photograph.css" "text/css; charset=utf-8" "board/photograph.css",
    "photograph.html" "text/html; charset=utf-8" "board/photograph.html",
    "photograph.js" "text/javascript; charset=utf-8" "board/photograph.js",
    "many.js" "text/javascript; charset=utf-8" "board/many.js",
    "numbers.css" "text/css; charset=utf-8" "board/numbers.css",
    "numbers.js" "text/javascript; charset=utf-8" "board/numbers.js",
    "page.js" "text/javascript; charset=utf-8" "board/page.js",
    "set.js" "text/javascript; charset=utf-8" "board/set.js",
    "shelf.js" "text/javascript; charset=utf-8" "board/shelf.js",
    "wire.js" "text/javascript; charset=utf-8" "board/wire.js",
    "sheet.js" "text/javascript; charset=utf-8" "board/sheet.js",
    "snap.js" "text/javascript; charset=utf-8" "board/snap.js",
    "findings.js" "text/javascript; charset=utf-8" "board/findings.js",
    "regular.ttf" "font/ttf" "fonts/DejaVuSansCondensed.ttf",
    "bold.ttf" "font/ttf" "fonts/DejaVuSansCondensed-Bold.ttf",
];

/// The file of a name; nothing is looked for on the disk.
pub fn file(name: &str) -> Option<&'static File> {
    FILES.iter().find(|(n, ..)| *n == name)
}
