//! What the program is built from: packages for the compiler that it states; nothing that opens a connection, and no
//! library in another language. Licenses and sources are `deny.toml`'s.

use serde_json::Value;
use std::process::Command;

/// The system the tests run on, as cargo names it.
const PLATFORM: &str = "x86_64-unknown-linux-gnu";
/// What programs open connections with, by the parts of a package's name.
const NETWORK: [&str; 12] = [
    "curl", "h2", "http", "hyper", "mio", "openssl", "quinn", "reqwest", "rustls", "socket2", "tokio", "ureq",
];

/// The packages of the workspace and all that these need, tests included.
#[cfg(all(target_os = "linux", target_arch = "x86_64", target_env = "gnu"))]
fn packages() -> Vec<Value> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let ran = Command::new(cargo)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        // The packages of other systems need not be here.
        .args(["metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", PLATFORM])
        .output()
        .expect("cargo runs");
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    let metadata: Value = serde_json::from_slice(&ran.stdout).expect("it prints JSON");
    let packages = metadata["packages"].as_array().expect("it lists packages").clone();
    assert!(packages.len() > 50, "only {} packages", packages.len());
    packages
}

/// Numbers of a version of the compiler: `1.88` is `[1, 88]`.
fn numbers(version: &str) -> [u32; 2] {
    let mut parts = version.split('.').map(|part| part.parse().expect("a number"));
    [0; 2].map(|_| parts.next().expect("a version has two numbers"))
}

#[test]
#[cfg(all(target_os = "linux", target_arch = "x86_64", target_env = "gnu"))]
fn packages_are_for_our_compiler() {
    let ours = numbers(env!("CARGO_PKG_RUST_VERSION"));
    let is_newer = |it: &Value| it["rust_version"].as_str().is_some_and(|version| numbers(version) > ours);
    let newer: Vec<Value> = packages().into_iter().filter(is_newer).map(|it| it["name"].clone()).collect();
    assert_eq!(newer, Vec::<Value>::new());
}

#[test]
#[cfg(all(target_os = "linux", target_arch = "x86_64", target_env = "gnu"))]
fn no_package_opens_connections_or_links_a_foreign_library() {
    for package in packages() {
        let name = package["name"].as_str().expect("a package has a name");
        assert!(!name.split(['-', '_']).any(|part| NETWORK.contains(&part)), "{name}");
        // A key of rayon's own, so that only one version of it is built in.
        assert!(package["links"].is_null() || name == "rayon-core", "{name} links {}", package["links"]);
    }
}
