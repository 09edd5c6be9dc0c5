//! The catalogue: plants, their names, the law about them, and where every value comes from.
//!
//! Reads and checks the CSV files of `data/`, collecting every finding with its place. Not
//! here: the derived library (`library`), full-text search (`search`), any judgement (`fit`).

mod check;
mod embedded;
mod envelope;
mod evidence;
mod law;
mod names;
mod own;
mod plant;
mod prices;
mod spectra;
mod table;
mod vocabulary;

pub use check::{Catalogue, read_catalogue};
pub use embedded::{DESCRIPTION, DataFile, SHIPPED, UNCHECKED};
pub use envelope::Envelope;
pub use evidence::{Claim, EvidenceKind, Source};
pub use law::{LegalEntry, LegalStanding, covers};
pub use names::{Language, Name, NameKind};
pub use own::{OWN_TABLES, merged, missing_accepted_names, table_of};
pub use plant::{Plant, TaxonId};
pub use prices::{PriceRow, read_prices};
pub use spectra::LightSource;
pub use table::{Cell, Row, Table};
pub use vocabulary::{
    CarbonUse, Colour, Emersed, Feeding, Footing, GrowthForm, Hazard, Lasting, LeafTexture, Offered,
    Placement,
};
