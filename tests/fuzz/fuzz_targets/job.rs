#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| boothside_fuzz::job(data));
