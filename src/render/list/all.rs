//! Formulas kind by kind, in words.

use crate::formula::Kind;
use crate::library::Header;
use crate::render::Document;

/// Kind by kind: id, then title and evidence below it.
pub(crate) fn list_document(found: &[Header]) -> Document {
    let mut list = Document::new();
    for kind in Kind::ALL {
        let own: Vec<&Header> = found.iter().filter(|header| header.kind == kind).collect();
        if own.is_empty() {
            continue;
        }
        list.heading(kind.words());
        list.facts(
            own.iter()
                .map(|header| {
                    let mark = match &header.origin {
                        crate::library::Origin::Folder(folder) => format!("; own, from {}", folder.display()),
                        crate::library::Origin::Shipped | crate::library::Origin::File => String::new(),
                    };
                    (header.id.clone(), format!("{} ({}{mark})", header.title, header.trust()))
                })
                .collect(),
        );
    }
    list
}
