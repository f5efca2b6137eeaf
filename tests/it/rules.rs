//! The rule set.
use larderling::rules::Rules;

#[test]
fn the_embedded_rule_set_has_no_fault() {
    if let Err(faults) = Rules::embedded() {
        panic!("{} faults\n{faults}", faults.0.len());
    }
}
