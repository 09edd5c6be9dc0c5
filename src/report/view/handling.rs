//! How plants are planted and looked over, by growth form and footing, in our own words. All of it
//! is common practice without a source, and the output says so.

use crate::catalogue::{Emersed, Footing, GrowthForm, Plant};

/// What so many pieces of a growth form are called, without the number.
pub fn piece_word(form: GrowthForm, pieces: usize) -> &'static str {
    let (one, more) = match form {
        GrowthForm::Stem => ("stem", "stems"),
        GrowthForm::Creeper => ("tuft", "tufts"),
        GrowthForm::Rosette | GrowthForm::Runner | GrowthForm::Floater => ("plantlet", "plantlets"),
        GrowthForm::Rhizome | GrowthForm::Fern => ("rhizome piece", "rhizome pieces"),
        GrowthForm::Bulb => ("bulb", "bulbs"),
        GrowthForm::Moss | GrowthForm::Liverwort => ("pad", "pads"),
        GrowthForm::Alga => ("ball", "balls"),
    };
    if pieces == 1 { one } else { more }
}

/// How a plant is set on what it holds on to.
pub fn how_to_plant(plant: &Plant, footing: Footing) -> &'static str {
    match footing {
        Footing::Hardscape => on_hardscape(plant.growth_form),
        Footing::Surface | Footing::Drifting => {
            "lay it on the water the right way up, away from the filter's outlet"
        }
        Footing::Bed => in_bed(plant.growth_form),
    }
}

fn on_hardscape(form: GrowthForm) -> &'static str {
    match form {
        GrowthForm::Moss | GrowthForm::Liverwort | GrowthForm::Alga => {
            "spread it thinly, no thicker than a coin, and wind thread over it; the thread can stay"
        }
        GrowthForm::Rhizome | GrowthForm::Fern => {
            "tie the rhizome down with thread or wedge it in a crack, never covered; roots take hold in weeks"
        }
        _ => "wedge the roots into a crack or tie them down, the crown free",
    }
}

fn in_bed(form: GrowthForm) -> &'static str {
    match form {
        GrowthForm::Stem => {
            "strip the lowest leaves, and insert each stem 2 to 3 cm deep with tweezers, aslant, one by one"
        }
        GrowthForm::Creeper => {
            "part the mat into tufts of a few shoots, and press each in until only its tips show"
        }
        GrowthForm::Rosette => "shorten long roots, insert them whole, and draw up until the crown is free",
        GrowthForm::Runner => {
            "part it along the runners, shorten long roots, insert each with its crown at the surface of the bed"
        }
        GrowthForm::Rhizome | GrowthForm::Fern => {
            "sink the roots only: the rhizome lies on the bed, for it rots when covered"
        }
        GrowthForm::Bulb => "press it in to a third, shoot up; the rest stays above the bed",
        GrowthForm::Moss | GrowthForm::Liverwort => {
            "spread it thinly under a net, or tie it to flat stones laid on the bed"
        }
        GrowthForm::Floater => "weigh it down, or let it float above its place",
        GrowthForm::Alga => "lay it on the bed; turn it now and then",
    }
}

/// What to do with every plant that arrives.
pub const EVERY_ARRIVAL: &str = "rinse; look for snails, eggs and algae; keep it apart for some days";

/// What to look at when a plant arrives.
pub fn on_arrival(plant: &Plant) -> String {
    let mut checks = vec![EVERY_ARRIVAL.to_owned()];
    if plant.emersed != Emersed::No {
        checks.push("leaves grown in air wither under water and new ones differ".to_owned());
    }
    match plant.growth_form {
        GrowthForm::Bulb => checks.push("the bulb is firm".to_owned()),
        GrowthForm::Rhizome | GrowthForm::Fern => checks.push("the rhizome is firm and not black".to_owned()),
        GrowthForm::Rosette | GrowthForm::Runner => checks.push("crown and roots are whole".to_owned()),
        GrowthForm::Stem => checks.push("tips are whole, stems not glassy".to_owned()),
        GrowthForm::Creeper
        | GrowthForm::Moss
        | GrowthForm::Liverwort
        | GrowthForm::Floater
        | GrowthForm::Alga => {}
    }
    checks.join("; ")
}
