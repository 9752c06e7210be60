//! The program: screens, keys, clocks of the machine.
