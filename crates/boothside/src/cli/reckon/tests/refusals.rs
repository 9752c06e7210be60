//! What cannot be used: exit status 2, an empty stdout, and words that say why.

use super::refused;

/// Each call of a topic is refused in words that contain these.
fn all_refused(topic: &str, calls: &[(&str, &str)]) {
    for (options, words) in calls {
        let text = refused(&format!("{topic} {options}"));
        assert!(text.contains(words), "{topic} {options}: {text}");
    }
}

#[test]
fn air_refuses() {
    all_refused(
        "air",
        &[
            ("--temperature 18,3C --humidity 55%", "decimal point"),
            ("--temperature 18 --humidity 55%", "no unit"),
            ("--temperature 1e999C --humidity 55%", "finite"),
            ("--temperature nan --humidity 55%", "number"),
            ("--temperature 18C --humidity 55", "no unit"),
            ("--temperature 18C --humidity 101%", "up to 100 %"),
            ("--temperature 18C --humidity 0%", "above 0"),
            ("--temperature 61C --humidity 50%", "−10 to 60"),
            ("--temperature 18C --humidity 50% --margin -3C --surface 18C", "negative"),
        ],
    );
}

#[test]
fn wait_refuses() {
    all_refused(
        "wait",
        &[
            ("--duration 1:30 --law steady", "name them"),
            ("--duration 0 --law steady", "above zero"),
            ("--duration 90 --law steady", "no unit"),
            ("--duration -5min --law steady", "negative"),
            (
                "--duration 1h --law warmth --reference 20C --reading 0,20C --energy 60kJ/mol --doubles-per 10C",
                "cannot be used with",
            ),
            (
                "--duration 1h --law warmth --reference 20C --reading 0,20C --doubles-per 0C",
                "doubling",
            ),
            (
                "--duration 1h --law warmth --reference 20C --reading 0,20C --doubles-per 10C --factor 0",
                "above 0",
            ),
            ("--duration 1h --law warmth --energy 60kJ/mol --reading 0,20C", "reference"),
            ("--duration 1h --law warmth --energy 60kJ/mol --reference 20C", "reading"),
            (
                "--duration 1h --law table --at-temperature 20C,1h --reading 0,20C",
                "two temperatures",
            ),
            ("--duration 1h --law water --reference 25C --reading 0,20C,50%", "humidity"),
            ("--duration 1h --law water --reference 25C,50% --reading 0,20C", "humidity"),
            ("--duration 1h --law steady --energy 60kJ/mol", "belongs to --law warmth"),
            ("--duration 1h --law steady --reading 0,20C,50%,1", "4 fields"),
        ],
    );
}

#[test]
fn viscosity_refuses() {
    all_refused(
        "viscosity",
        &[
            ("--cup ford-4 --seconds 101", "20 to 100 s"),
            ("--cup ford-9 --seconds 50", "no cup"),
            ("--cup ford-4 --kinematic 5cSt", "another cup"),
            ("--cup ford-4", "required"),
        ],
    );
}

#[test]
fn mix_refuses() {
    all_refused(
        "mix",
        &[
            ("--by volume --volume 1L --parts 4:1 --density 1g/mL", "2 parts and 1 densities"),
            ("--by volume --volume 1L --parts 4:0 --density 1g/mL,1g/mL", "more than 0"),
            (
                "--by volume --volume 1L --parts 4:1 --density 1g/mL,1g/mL --mass 1kg",
                "cannot be used with",
            ),
            (
                "--by volume --volume 1L --parts 4:1 --density 1g/mL,1g/mL --poured 1g,1g,1g",
                "3 pours",
            ),
            (
                "--by volume --volume 1L --parts 4:1 --density 1g/mL,1g/mL --scale-readings 9g,8g",
                "only grows",
            ),
            ("--by volume --volume 1L --parts 4:1 --density 1g/mL,1g/mL --tolerance 1%", "--step"),
            (
                "--by volume --volume 1L --parts 4:1 --density 1g/mL,1g/mL --step 1g --tolerance 1",
                "no % sign",
            ),
            (
                "--parts 4:1 --by volume --density 1g/mL,1g/mL --have 1,5oz",
                "5floz or 5oz of weight?",
            ),
            ("--by volume --volume 1L --parts 4:1 --density \"\"", "--density"),
            ("--by volume --volume 1L --parts \"\" --density 1g/mL", "--parts"),
            (
                "--by weight --mass 1kg --parts 4:1 --density 1g/mL,1g/mL --poured 1e-400g",
                "too small",
            ),
            ("--parts 4:1 --by volume --density 1g/mL,1g/mL --have 3,1L", "no component 3"),
            ("--parts 4:1 --by volume --density 1g/mL,1g/mL", "required"),
        ],
    );
}

#[test]
fn stock_refuses() {
    all_refused(
        "stock",
        &[
            ("--volume 1L --can-share 0 --cycle 2L,10%,0", "cannot be poured"),
            ("--volume 1L --can-share 0 --cycle 100mL,10%,111mL", "cannot be used"),
            ("--volume 1L --can-share 0 --cycle 100mL,10,0", "10 or 10%?"),
            ("--volume 1L --can-share 0 --cycle \" \"", "--cycle"),
        ],
    );
}

#[test]
fn film_refuses() {
    all_refused(
        "film",
        &[
            ("--wet 100um --solids 120%", "100 %"),
            ("--wet 0um --solids 50%", "above 0"),
            ("--wet 4mm --solids 50%", "4mil or 4mm?"),
            ("--dry 3mm --solids 50%", "--thick"),
            ("--wet 100um --solids 50% --thinner 10", "10 or 10%?"),
        ],
    );
}

#[test]
fn coverage_refuses() {
    all_refused(
        "coverage",
        &[
            ("--area 0m2 --dry 20um --solids 50%", "area"),
            ("--area 1m2 --dry 20um --solids 50% --coats 0", "coats"),
            ("--area 1m2 --dry 20um --solids 50% --spare 10", "10 or 10%?"),
            ("--area 1m2 --dry 20um --solids 50% --thinner 12", "12 or 12%?"),
        ],
    );
}

#[test]
fn ventilation_refuses() {
    all_refused(
        "ventilation",
        &[
            ("--volume 60m3 --flow 600m3/h --left 99%", "99 % removed"),
            ("--volume 60m3 --flow 600m3/h --left 0%", "above 0"),
            ("--volume 60m3 --flow 600m3/h --mixing 0.5", "mixing factor"),
            ("--volume 60m3 --flow 0m3/h", "flow"),
        ],
    );
}

#[test]
fn dilution_refuses() {
    all_refused(
        "dilution",
        &[
            ("--lel 0% --vapour 0.2m3/L", "limit"),
            ("--lel 1 --vapour 0.2m3/L", "no % sign"),
            ("--lel 0.9 --vapour 0.2m3/L", "no % sign"),
        ],
    );
}

#[test]
fn emission_refuses() {
    all_refused(
        "emission",
        &[
            ("--component 1L,1g/mL,50%,40%,20%,1g/mL", "add to 60 %"),
            ("--component 1L,1g/mL,110%,40%,20%,1g/mL", "100 %"),
            ("--component 1L,1g/mL,50%,40%,10%", "density of the exempt"),
            ("", "required"),
        ],
    );
}

#[test]
fn weight_refuses() {
    all_refused(
        "weight",
        &[
            ("--area 1m2 --dry 20um --density 0g/mL", "density"),
            ("--area 1m2 --dry 20um --density 1.2", "no unit"),
        ],
    );
}

#[test]
fn what_was_typed_never_reaches_the_terminal_raw() {
    // C1 controls steer a terminal as escape sequences do (ECMA-48, 8.3)
    for typed in ["18C\u{9b}2J", "18C\u{1b}[2J", "18C\u{7}", "\u{202e}18C"] {
        for option in ["--temperature", "--nought"] {
            let option = format!("{option}={typed}");
            let line = ["boothside", "reckon", "air", "--humidity", "50%", &option];
            let (mut out, mut err) = (Vec::new(), Vec::new());
            let status = crate::cli::main(line.map(Into::into), &mut out, &mut err);
            let text = String::from_utf8(err).unwrap();
            assert_eq!((status, out.as_slice()), (2, &b""[..]), "{text}");
            let steers = |c: char| (c.is_control() && c != '\n') || c == '\u{202e}';
            assert!(!text.is_empty() && !text.contains(steers), "{text:?}");
        }
    }
}
