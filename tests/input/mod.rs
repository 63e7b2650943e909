//! Hostile and broken files: each is refused in one located line, quickly, and no text whatever makes the readers
//! panic or lose a place.

mod hostile;
mod limits;
mod products;
mod properties;
mod replay;
