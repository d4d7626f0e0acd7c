//! Any text as a quantity, as one of each kind, and as the statement of a meter.

use rules_core::quantity::{Kind, Meter, Nature, Quantity, QuantityError, Tolerance};

/// A text that is a quantity prints as itself; its value is inside its interval; what is refused
/// says where and why.
pub fn any(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    match Quantity::parse(&text) {
        Ok(quantity) => prints_as_itself(&quantity),
        Err(error) => says_where_and_why(&error, &text),
    }
    if let Ok(tolerance) = Tolerance::parse(&text) {
        let printed = tolerance.to_string();
        assert!(
            Tolerance::parse(&printed).is_ok(),
            "`{printed}`, printed of a tolerance, is none"
        );
    }
    Kind::ALL.into_iter().for_each(|kind| as_kind(&text, kind));
}

fn prints_as_itself(quantity: &Quantity) {
    let printed = quantity.to_string();
    assert_eq!(
        Quantity::parse(&printed).as_ref(),
        Ok(quantity),
        "`{printed}` reads back as another"
    );
}

fn as_kind(text: &str, kind: Kind) {
    let meter = Meter::parse(text, kind).ok();
    for nature in [Nature::Measured, Nature::Printed, Nature::Stated] {
        match Quantity::read(text, kind, nature, meter.as_ref()) {
            Ok(value) => {
                let (low, high, nominal) =
                    (value.range().lo(), value.range().hi(), value.nominal());
                assert!(
                    low <= nominal && nominal <= high && nominal.is_finite(),
                    "{nominal} is not in {low} to {high}"
                );
                assert!(!value.shown(kind).to_string().is_empty());
            }
            Err(error) => says_where_and_why(&error, text),
        }
    }
    // A meter reads something as good as it says.
    if let Some(meter) = meter
        && let Ok(value) = Quantity::read(kind.example(), kind, Nature::Measured, Some(&meter))
    {
        assert!(value.range().contains(value.nominal()));
    }
}

fn says_where_and_why(error: &QuantityError, text: &str) {
    assert!(
        text.get(error.span()).is_some(),
        "{:?} is no place in `{text}`",
        error.span()
    );
    assert!(!error.message().is_empty() && !error.help().is_empty());
}
