//! Completion scripts and the manual page, from the options.

use crate::options::{Cli, Generated};
use clap::CommandFactory;
use clap_complete::Shell;

/// The script or the page as text.
pub fn text(what: Generated) -> std::io::Result<Vec<u8>> {
    let mut command = Cli::command();
    let mut out = Vec::new();
    let shell = match what {
        Generated::Bash => Shell::Bash,
        Generated::Elvish => Shell::Elvish,
        Generated::Fish => Shell::Fish,
        Generated::Powershell => Shell::PowerShell,
        Generated::Zsh => Shell::Zsh,
        Generated::Man => {
            manual(&command, &mut out)?;
            return Ok(out);
        }
    };
    clap_complete::generate(shell, &mut command, "coldsill", &mut out);
    Ok(out)
}

/// One page: the program, then each command with its options.
fn manual(command: &clap::Command, out: &mut Vec<u8>) -> std::io::Result<()> {
    clap_mangen::Man::new(command.clone()).render(out)?;
    for command in command.get_subcommands() {
        let name = format!("coldsill {}", command.get_name());
        let man = clap_mangen::Man::new(command.clone().bin_name(name.clone()).display_name(name));
        man.render_name_section(out)?;
        man.render_synopsis_section(out)?;
        man.render_options_section(out)?;
    }
    Ok(())
}
