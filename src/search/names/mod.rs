//! Which taxon a written name means, and when that cannot be said.
