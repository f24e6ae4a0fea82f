use super::*;

#[test]
fn every_form_is_listed_and_each_can_be_asked_for() {
    let json = good(&["substance", "--json"]).json();
    let all = json["substances"].as_array().unwrap();
    assert!(all.len() >= 126);
    for own in all {
        let id = own["id"].as_str().unwrap();
        let one = good(&["substance", id, "--json"]).json();
        assert_eq!(one["id"], id);
        assert!(one["hazards"].is_array() && one["crystal_water"].is_number());
    }
}

#[test]
fn hydrates_name_their_parent_and_water() {
    let json = good(&["substance", "sodium-carbonate-decahydrate", "--json"]).json();
    assert_eq!(json["parent"], "sodium-carbonate");
    assert!((json["crystal_water"].as_f64().unwrap() - 10.0).abs() < 1e-12);
    // Source: CRC Handbook, physical constants: 286.141 g/mol.
    assert!((json["molar_mass"].as_f64().unwrap() - 286.141).abs() < 0.02);
    let json = good(&["substance", "metol", "--json"]).json();
    assert!(json["parent"].is_null());
}

#[test]
fn names_and_cas_numbers_lead_to_it_and_a_bare_parent_is_told_its_forms() {
    assert_eq!(good(&["substance", "55-55-0", "--json"]).json()["id"], "metol");
    let ran = soupcon(&["substance", "soda"]);
    assert_eq!(ran.code, 2);
    insta::assert_snapshot!(soupcon(&["substance", "sodium-carbonate"]).whole());
}

#[test]
fn the_card_of_metol() {
    insta::assert_snapshot!(good(&["substance", "metol"]).out);
}
