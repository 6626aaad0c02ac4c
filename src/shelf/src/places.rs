//! Which folders, as the person or the system says, and what time it is.

use std::path::PathBuf;
use std::time::SystemTime;

use etcetera::BaseStrategy;

use crate::ShelfError;

/// Environment variable that names the data folder.
pub const DATA_VARIABLE: &str = "TRACEBAY_DATA";

/// Environment variable that names the save folder.
pub const SAVE_VARIABLE: &str = "TRACEBAY_SAVE";

/// The folder laid over the built-in data: the option, else the variable, else none.
pub fn data_folder(option: Option<PathBuf>) -> Option<PathBuf> {
    option.or_else(|| from_variable(DATA_VARIABLE))
}

/// The folder attempts are kept in: the option, else the variable, else `tracebay/attempts` in
/// the user's data folder (XDG Base Directory on Linux).
pub fn save_folder(option: Option<PathBuf>) -> Result<PathBuf, ShelfError> {
    if let Some(folder) = option.or_else(|| from_variable(SAVE_VARIABLE)) {
        return Ok(folder);
    }
    let base = etcetera::choose_base_strategy().map_err(|_| ShelfError::NoHome)?;
    Ok(base.data_dir().join("tracebay").join("attempts"))
}

/// The present time as RFC 3339 text in UTC.
pub fn now_rfc3339() -> String {
    humantime::format_rfc3339_seconds(SystemTime::now()).to_string()
}

fn from_variable(name: &str) -> Option<PathBuf> {
    std::env::var_os(name)
        .filter(|value| !value.is_empty())
        .map(PathBuf::from)
}
