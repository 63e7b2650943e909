//! Completion scripts and the manual page name every command.

use super::common::Folder;

const COMMANDS: [&str; 16] = [
    "review",
    "depth",
    "standard",
    "compare",
    "orders",
    "sheet",
    "read",
    "cold-spell",
    "climates",
    "walls",
    "materials",
    "metals",
    "devices",
    "facts",
    "rules",
    "schema",
];

#[test]
fn scripts_and_manual_name_every_command() {
    for what in ["bash", "elvish", "fish", "powershell", "zsh", "man"] {
        let ran = Folder::new().run_with(&["generate", what]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{what}");
        // Roff writes a hyphen as \-.
        let text = ran.out.replace("\\-", "-");
        for command in COMMANDS {
            assert!(text.contains(command), "{what}: {command}");
        }
    }
}

#[test]
fn the_manual_has_options_of_commands_and_the_cautions() {
    let text = Folder::new().run_with(&["generate", "man"]).out.replace("\\-", "-");
    assert!(text.contains("--design-low") && text.contains("Screening only"), "{text}");
}
