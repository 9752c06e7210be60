//! Large digits, and what stands between them in a time or a number.
//!
//! A glyph is seven pixels high; a row of it is written from left to right, rows are parted by `/`. All
//! digits are equally wide, so that a countdown does not tremble; 0 has a stroke, so that it is no O.

/// The glyph of a digit, a colon, a full stop, a comma, a minus, a plus, a space.
#[must_use]
pub const fn digit(c: char) -> Option<&'static str> {
    Some(match c {
        '0' => ".##./#..#/#.##/#.##/##.#/#..#/.##.",
        '1' => ".#../##../.#../.#../.#../.#../###.",
        '2' => ".##./#..#/...#/..#./.#../#.../####",
        '3' => ".##./#..#/...#/.##./...#/#..#/.##.",
        '4' => "#..#/#..#/#..#/####/...#/...#/...#",
        '5' => "####/#.../###./...#/...#/#..#/.##.",
        '6' => ".##./#.../#.../###./#..#/#..#/.##.",
        '7' => "####/...#/...#/..#./..#./.#../.#..",
        '8' => ".##./#..#/#..#/.##./#..#/#..#/.##.",
        '9' => ".##./#..#/#..#/.###/...#/...#/.##.",
        ':' => "././#/./#/./.",
        '.' => "././././././#",
        ',' => "../../../../../.#/#.",
        '-' => ".../.../.../###/.../.../...",
        '+' => ".../.../.#./###/.#./.../...",
        ';' => "../../.#/../../.#/#.",
        ' ' => ".../.../.../.../.../.../...",
        _ => return None,
    })
}
