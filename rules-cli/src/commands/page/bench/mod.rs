//! A bench in the browser: its tables as its files have them. A value that is corrected is written at
//! once, where it stands, if the bench can still be read then.

mod add;
mod edit;
mod import;
mod overlay;
mod show;
mod sorted;
mod tables;

pub(super) use self::add::add;
pub(super) use self::edit::correct;
pub(super) use self::import::import;
pub(super) use self::show::shown;
pub(super) use self::sorted::sorted;
