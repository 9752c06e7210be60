//! What may be written to: plain files of one name, in folders that are no links. What else lies in a
//! data folder may lead anywhere.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io;
use std::path::Path;

/// Whether others than their owner may write to a folder, so that they may put anything into it.
#[must_use]
pub fn others_may_write(folder: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        const GROUP_AND_OTHERS: u32 = 0o022;
        fs::metadata(folder).is_ok_and(|found| found.mode() & GROUP_AND_OTHERS != 0)
    }
    #[cfg(not(unix))]
    {
        let _ = folder;
        false
    }
}

/// Refuses a folder that is a link to another.
pub(super) fn check_folder(folder: &Path) -> io::Result<()> {
    match fs::symlink_metadata(folder) {
        Ok(found) if found.is_symlink() => {
            let name = crate::printable_path(folder);
            Err(refused(format!("{name} is a link: put the folder itself there")))
        }
        Err(why) if why.kind() != io::ErrorKind::NotFound => Err(why),
        _ => Ok(()),
    }
}

/// Refuses a file that lies elsewhere.
pub(super) fn check_file(path: &Path) -> io::Result<()> {
    match fs::symlink_metadata(path) {
        Ok(found) => plain(&found).and_then(|()| one_name(&found)),
        Err(why) if why.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(why) => Err(why),
    }
}

/// Opens a plain file of one name. It is looked at before, for opening a pipe waits for its other
/// end, and after, for something else may have been put there meanwhile.
pub(super) fn open_own(path: &Path, options: &mut OpenOptions) -> io::Result<File> {
    let found = fs::symlink_metadata(path)?;
    plain(&found).and_then(|()| one_name(&found))?;
    let file = follow_nothing(options).open(path)?;
    let found = file.metadata()?;
    plain(&found).and_then(|()| one_name(&found))?;
    Ok(file)
}

/// Opens a plain file for looking at it, whatever its names.
pub(super) fn open_plain(path: &Path) -> io::Result<File> {
    plain(&fs::symlink_metadata(path)?)?;
    let file = follow_nothing(OpenOptions::new().read(true)).open(path)?;
    plain(&file.metadata()?)?;
    Ok(file)
}

/// The file of a lock, made where there is none, and whether it is one of ours to write into. A plain
/// file of another's, or with a second name, can be locked and is not written to.
pub(super) fn open_lock(path: &Path) -> io::Result<(File, bool)> {
    let mut new = OpenOptions::new();
    new.read(true).write(true).create_new(true);
    owner_only(&mut new);
    match new.open(path) {
        Err(why) if why.kind() == io::ErrorKind::AlreadyExists => {}
        made => return made.map(|file| (file, true)),
    }
    let found = fs::symlink_metadata(path)?;
    plain(&found)?;
    if one_name(&found).is_ok() && is_ours(&found) {
        let file = open_own(path, OpenOptions::new().read(true).write(true))?;
        return Ok((file, true));
    }
    Ok((open_plain(path)?, false))
}

/// Refuses what is no plain file.
pub(super) fn plain(found: &Metadata) -> io::Result<()> {
    if found.is_symlink() {
        return Err(refused("a link, not a file of its own".to_owned()));
    }
    if found.is_file() {
        return Ok(());
    }
    Err(refused("not a plain file".to_owned()))
}

fn refused(why: String) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidInput, why)
}

#[cfg(unix)]
fn one_name(found: &Metadata) -> io::Result<()> {
    use std::os::unix::fs::MetadataExt;
    if found.nlink() <= 1 {
        return Ok(());
    }
    Err(refused("a hard link: put a copy in its place".to_owned()))
}

#[cfg(not(unix))]
#[expect(clippy::unnecessary_wraps, reason = "one signature for all systems")]
fn one_name(_: &Metadata) -> io::Result<()> {
    Ok(())
}

#[cfg(unix)]
fn is_ours(found: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    found.uid() == rustix::process::geteuid().as_raw()
}

#[cfg(not(unix))]
fn is_ours(_: &Metadata) -> bool {
    true
}

/// No link is followed, and nothing waits for the other end of a pipe.
#[cfg(unix)]
fn follow_nothing(options: &mut OpenOptions) -> &mut OpenOptions {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    options.custom_flags((OFlags::NOFOLLOW | OFlags::NONBLOCK).bits().cast_signed())
}

#[cfg(not(unix))]
fn follow_nothing(options: &mut OpenOptions) -> &mut OpenOptions {
    options
}

#[cfg(unix)]
pub(super) fn owner_only(options: &mut OpenOptions) {
    std::os::unix::fs::OpenOptionsExt::mode(options, 0o600);
}

#[cfg(not(unix))]
pub(super) fn owner_only(_: &mut OpenOptions) {}
