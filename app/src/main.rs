//! Tiewright.

fn main() -> std::process::ExitCode {
    let path = std::env::args_os().nth(1).map(Into::into);
    let export = |_: &layout_core::elevation::Project, path: &std::path::Path| {
        std::fs::write(path, b"").map_err(|e| e.to_string())
    };
    match tiewright::app::run_window(path, export) {
        Ok(()) => std::process::ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            std::process::ExitCode::from(2)
        }
    }
}
