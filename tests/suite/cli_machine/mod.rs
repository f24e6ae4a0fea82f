//! Help, completions, manual pages, schemas, skeletons and settings, as a user or another program meets them.

use std::fs;
use std::path::Path;

use crate::common::{command, good, soupcon};

mod help;

mod completions;

mod man;

mod schema;

mod skeletons;

mod configuration;
