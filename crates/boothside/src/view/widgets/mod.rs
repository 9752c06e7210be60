//! What the screens share.
