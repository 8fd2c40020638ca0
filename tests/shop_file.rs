//! The demo's shop files, made by the program and read by ezdxf, against a table made by hand.

use std::path::Path;
use std::process::Command;

#[test]
fn the_shop_files_hold_what_the_panel_file_says() {
    let root = env!("CARGO_MANIFEST_DIR");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("shop-file");
    let made = Command::new(env!("CARGO_BIN_EXE_panelwright"))
        .args(["template", "panels/wheatear/proposed.json", "--formats", "dxf,dxf-r12", "--out"])
        .arg(&folder)
        .current_dir(root)
        .output()
        .unwrap();
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    let python = std::env::var("PANELWRIGHT_PYTHON").unwrap_or_else(|_| ".venv/bin/python".into());
    let read = Command::new(&python)
        .arg("tests/oracle/shop_file.py")
        .arg(folder.join("wheatear-proposed.dxf"))
        .arg(folder.join("wheatear-proposed-r12-mm.dxf"))
        .current_dir(root)
        .output()
        .unwrap_or_else(|e| panic!("cannot run {python} ({e}): `bash tests/all` makes it"));
    let said = String::from_utf8_lossy(&read.stdout);
    assert!(read.status.success(), "{said}\n{}", String::from_utf8_lossy(&read.stderr));
    assert_eq!(said.lines().count(), 2, "{said}");
}
