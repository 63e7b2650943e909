//! What the program is built from: only packages of the public registry, under licenses that its own allow.

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

/// Whether an expression of licenses (SPDX, or with slashes as older packages write it) can be met by allowed ones.
fn is_allowed(expression: &str) -> bool {
    let plain = expression.replace(['(', ')'], " ").replace('/', " OR ");
    // All of these expressions are alternatives, or alternatives joined by AND: each part of an AND must have one.
    plain.split(" AND ").all(|part| part.split(" OR ").any(|license| ALLOWED.contains(&license.trim())))
}

#[test]
#[cfg(all(target_os = "linux", target_arch = "x86_64", target_env = "gnu"))]
fn packages_come_from_the_registry_under_allowed_licenses() {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let ran = Command::new(cargo)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        // The packages of other systems need not be here.
        .args(["metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", PLATFORM])
        .output()
        .expect("cargo runs");
    assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
    let metadata: Value = serde_json::from_slice(&ran.stdout).expect("it prints JSON");
    let packages = metadata["packages"].as_array().expect("it lists packages");
    assert!(packages.len() > 50, "only {} packages", packages.len());
    let wrong: Vec<String> = packages
        .iter()
        .filter(|it| {
            let is_ours = it["source"].is_null();
            let license = it["license"].as_str().unwrap_or_default();
            !(is_allowed(license) && (is_ours || it["source"] == REGISTRY))
        })
        .map(|it| format!("{} {}: {}, {}", it["name"], it["version"], it["license"], it["source"]))
        .collect();
    assert_eq!(wrong, Vec::<String>::new());
}
