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
    // There are two, and none of them is chosen in silence.
    for word in ["Minneapolis", "Minneapolis, MN"] {
        let told = library.find(word, &at).unwrap_err().to_string();
        assert!(told.contains("minneapolis-mn (") && told.contains("minneapolis-crystal-mn ("), "{told}");
    }
    assert_eq!(
        library.find("minneapolos", &at).unwrap_err().to_string(),
        "--climate: \"minneapolos\" is not a known town or climate; did you mean \"minneapolis-mn\"?"
    );
}
