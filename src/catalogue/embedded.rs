//! The data files, carried inside the program.

/// A data file: its name under `data/` and its text.
#[derive(Debug, Clone, Copy)]
pub struct DataFile {
    /// The file name.
    pub name: &'static str,
    /// The whole text.
    pub text: &'static str,
}

macro_rules! shipped {
    ($($name:literal),+ $(,)?) => {
        /// The catalogue as shipped, in reading order.
        pub const SHIPPED: &[DataFile] = &[
            $(DataFile { name: $name, text: include_str!(concat!("../../data/", $name)) }),+
        ];
    };
}

/// Tables of the data package that the catalogue does not read: records of how it was made.
pub const UNCHECKED: &[DataFile] = &[
    DataFile { name: "name-decisions.csv", text: include_str!("../../data/name-decisions.csv") },
    DataFile { name: "wgsrpd.csv", text: include_str!("../../data/wgsrpd.csv") },
];

/// The description of the data package.
pub const DESCRIPTION: DataFile =
    DataFile { name: "datapackage.json", text: include_str!("../../data/datapackage.json") };

shipped!(
    "sources.csv",
    "plants.csv",
    "names.csv",
    "evidence.csv",
    "legal.csv",
    "light-sources.csv",
    "light-bands.csv",
);
