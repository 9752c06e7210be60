//! How to keep this machine awake, by its system. Documentation of the systems' own tools.

/// How to keep this machine awake while a session runs.
#[must_use]
pub const fn keep_awake() -> &'static str {
    if cfg!(target_os = "linux") {
        "keep this laptop awake: systemd-inhibit --what=idle:sleep:handle-lid-switch boothside"
    } else if cfg!(target_os = "macos") {
        "keep this laptop awake: caffeinate -di boothside, and leave the lid open"
    } else if cfg!(windows) {
        "keep this laptop awake: Settings, Power: never sleep, closing the lid does nothing"
    } else {
        "keep this laptop awake: turn off sleep and the lid switch for the session"
    }
}
