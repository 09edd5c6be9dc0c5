//! The catalogue in figures, as text.

use super::lines::Page;
use crate::catalogue::EvidenceKind;
use crate::report::view::CatalogueView;

/// The report of `catalogue check`.
pub fn catalogue(page: &mut Page, view: &CatalogueView) {
    page.heading("Catalogue");
    page.paragraph(
        &format!(
            "{} taxa, {} names, {} claims from {} sources, {} entries of laws and registers, {} findings",
            view.taxa, view.names, view.claims, view.sources, view.legal, view.findings
        ),
        2,
    );
    page.gap();
    page.heading("Share of taxa by the strongest evidence of a trait");
    let kinds = EvidenceKind::WORDS;
    let header: Vec<String> = kinds.iter().map(|k| format!("{k:>11}")).collect();
    page.line(&format!("  {:<14}{}", "", header.concat()));
    for row in &view.evidence {
        let cells: Vec<String> = kinds
            .iter()
            .map(|k| format!("{:>9.1} %", row.shares.get(*k).copied().unwrap_or(0.0) * 100.0))
            .collect();
        page.line(&format!("  {:<14}{}", row.trait_name, cells.concat()));
    }
    page.gap();
    page.paragraph("A value without a claim of its own counts as common practice.", 2);
}
