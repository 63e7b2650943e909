//! What the program is built from: only packages of the public registry, under licenses that its own allow, for the
//! compiler that it states; nothing that opens a connection, and no library in another language.

use serde_json::Value;
use std::process::Command;

/// Licenses that a package may be under. Each permits use in a program under MIT or Apache-2.0.
const ALLOWED: [&str; 10] = [
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];
/// The system the tests run on, as cargo names it.
const PLATFORM: &str = "x86_64-unknown-linux-gnu";
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";
/// What programs open connections with, by the parts of a package's name.
const NETWORK: [&str; 12] = [
    "curl", "h2", "http", "hyper", "mio", "openssl", "quinn", "reqwest", "rustls", "socket2", "tokio", "ureq",
];

/// Whether an expression of licenses (SPDX, or with slashes as older packages write it) can be met by allowed ones.
fn is_allowed(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    // All of these expressions are alternatives, or alternatives joined by AND: each part of an AND must have one.
    plain.split(" AND ").all(|part| part.split(" OR ").any(|license| ALLOWED.contains(&license.trim())))
}

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
fn packages_are_from_the_registry_licensed_and_of_our_compiler() {
    let ours = numbers(env!("CARGO_PKG_RUST_VERSION"));
    let wrong: Vec<String> = packages()
        .iter()
        .filter(|package| {
            let is_ours = package["source"].is_null();
            let license = package["license"].as_str().unwrap_or_default();
            let is_newer = package["rust_version"].as_str().is_some_and(|version| numbers(version) > ours);
            !is_allowed(license) || is_newer || !(is_ours || package["source"] == REGISTRY)
        })
        .map(|it| format!("{} {}: {}, {}", it["name"], it["version"], it["license"], it["source"]))
        .collect();
    assert_eq!(wrong, Vec::<String>::new());
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
