//! (room to come)
