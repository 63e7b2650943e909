//! Finding a shipped climate. What the climates themselves must be stands in `tests/climate/shipped.rs`.

use coldsill::shipped;

#[test]
fn a_place_is_found_by_the_name_people_say() {
    let library = shipped::climates().unwrap();
    let at = coldsill::diag::Location::whole("--climate");
    for word in ["minneapolis-mn", "Minneapolis-St. Paul", "St Paul, Minnesota"] {
        assert_eq!(&*library.find(word, &at).unwrap().id, "minneapolis-mn", "{word}");
    }
    assert_eq!(&*library.find("Duluth", &at).unwrap().id, "duluth-mn");
    // Of the two in town, the one with the colder 20-year low.
    let low = |id: &str| library.find(id, &at).unwrap().design_low().unwrap();
    assert!(low("minneapolis-mn") < low("minneapolis-crystal-mn"));
    for word in ["Minneapolis", "Minneapolis, MN"] {
        assert_eq!(&*library.find(word, &at).unwrap().id, "minneapolis-mn", "{word}");
    }
    assert_eq!(
        library.find("minneapolos", &at).unwrap_err().to_string(),
        "--climate: \"minneapolos\" is not a known town or climate; did you mean \"minneapolis-mn\"?"
    );
}
