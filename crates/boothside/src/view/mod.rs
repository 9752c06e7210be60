//! Board to picture. Nothing here reads a clock or changes anything: a scene goes in, cells come out.

mod air;
mod bench;
mod big;
pub mod book;
mod clocks;
mod film;
mod foot;
mod glance;
pub mod hero;
mod keys;
mod log;
mod mix;
mod page;
mod panel;
mod pen;
mod picker;
mod ready;
mod small;
#[cfg(test)]
mod tests;
pub mod text;
pub mod theme;
pub mod widgets;
pub mod words;

use ratatui::Frame;

use crate::update::scene::{Scene, Screen};
use page::Page;
use pen::Pen;
use theme::Theme;

/// Draws a session. At any size: below 80×24 it says so, and still tells what is due.
pub fn draw(frame: &mut Frame<'_>, scene: &Scene<'_>, theme: &Theme) {
    let area = frame.area();
    let page = Page::new(scene, *theme, area.height);
    let mut pen = Pen::new(frame.buffer_mut(), area);
    let busy = scene.asking.is_some() || scene.form.is_some() || scene.leaving;
    if small::is_small(area.width, area.height) {
        small::draw(&page, &mut pen);
    } else if scene.glance && !busy {
        glance::draw(&page, &mut pen);
    } else if let Some(picker) = scene.picker.filter(|_| !busy) {
        picker::draw(&page, &mut pen, picker);
    } else {
        match scene.screen {
            Screen::Keys if !busy => keys::draw(&page, &mut pen),
            Screen::Mix => mix::draw(&page, &mut pen),
            Screen::Ready => ready::draw(&page, &mut pen),
            Screen::Air => air::draw(&page, &mut pen),
            Screen::Film => film::draw(&page, &mut pen),
            Screen::Log => log::draw(&page, &mut pen),
            Screen::Keys | Screen::Clocks => clocks::draw(&page, &mut pen),
        }
    }
}

/// Draws the book, likewise at any size.
pub fn draw_book(frame: &mut Frame<'_>, scene: &book::RoomScene<'_>, theme: &Theme) {
    let area = frame.area();
    let mut pen = Pen::new(frame.buffer_mut(), area);
    if small::is_small(area.width, area.height) {
        small::draw_start(&mut pen, *theme);
    } else {
        book::draw(scene, *theme, &mut pen);
    }
}
