//! What a proposal says under `extra`: facts that rulesets declare.

use rules_core::document::{Entry, Fault, Problems};
use rules_core::facts::{Catalogue, Sheet, SubjectId, read_value};

/// A fact under `extra`, to be read when the rulesets that declare it are known.
#[derive(Debug, Clone)]
pub(super) struct Extra {
    pub subject: SubjectId,
    pub position: usize,
    pub entry: Entry<'static>,
}

/// Fills a sheet of a catalogue with what is given under `extra`.
pub(super) fn fill_extras(
    sheet: &mut Sheet,
    extras: &[Extra],
    catalogue: &Catalogue,
    problems: &mut Problems<'_>,
) {
    // What the loader itself knows or works out is not for `extra` to say.
    let own = crate::facts::catalogue();
    for extra in extras {
        let name = catalogue.full_name(extra.subject, &extra.entry.key);
        let declared = catalogue
            .fact_named(&name)
            .filter(|_| own.fact_named(&name).is_none());
        let Some((id, def)) = declared else {
            undeclared(extra, &name, catalogue, own, problems);
            continue;
        };
        let meter = sheet.meters().serving(def);
        let given = read_value(&extra.entry.node, &name, def, meter, problems);
        let instance = sheet.instance_mut(extra.subject, extra.position);
        if let (Some(given), Some(instance)) = (given, instance) {
            instance.set(catalogue.slot(id), given);
        }
    }
}

fn undeclared(
    extra: &Extra,
    name: &str,
    catalogue: &Catalogue,
    own: &Catalogue,
    problems: &mut Problems<'_>,
) {
    let names = catalogue.facts().map(|(id, _)| catalogue.fact_name(id));
    let declared: Vec<&str> = names
        .filter(|known| own.fact_named(known).is_none())
        .collect();
    let help = match problems.near(name, declared.iter().copied()) {
        Some(near) => format!(
            "did you mean `{}`?",
            near.split_once('.').map_or(near, |(_, name)| name)
        ),
        None => "a ruleset that declares it under `facts` must take part in the check".to_owned(),
    };
    problems.add(
        Fault::UnknownKey,
        extra.entry.key_span,
        format!("no ruleset in use declares a fact `{name}`"),
        help,
    );
}
