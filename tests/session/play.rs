//! The example job from prep to close by SPACE alone.

use boothside_core::board::{Next, Stage};

use crate::bench::Bench;

#[test]
fn space_alone_leads_through_the_whole_job() {
    let mut bench = Bench::example();
    let mut presses = 0;
    loop {
        let board = bench.board();
        if std::env::var_os("TRACE").is_some() {
            println!("{:>8.1} {:?} {:?}", bench.now.seconds() / 60.0, board.stage, board.next);
        }
        if bench.space() == Next::Over {
            break;
        }
        bench.pass(0.5);
        presses += 1;
        assert!(presses < 500, "no end: {:?}", bench.board().next);
    }
    assert_eq!(bench.board().stage, Stage::Closed);
    let state = bench.session.state();
    for face in &state.faces {
        assert_eq!((face.coats_on(1), face.coats_on(2)), (2, 3));
    }
}
