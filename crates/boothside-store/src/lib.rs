//! What boothside keeps on disk.
