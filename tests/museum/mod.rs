//! A museum of wrong files: what the program says of each as a person reads it, and that no kind of problem goes without
//! a file that shows it.

mod messages;
mod rooms;
mod shown;
