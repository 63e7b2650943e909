//! Results by key, each computed once.

use std::collections::HashMap;
use std::hash::Hash;
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// Results by key. Each is computed once, even if several threads ask for it at the same time.
#[derive(Debug)]
pub(super) struct Memo<K, V>(Mutex<HashMap<K, Arc<OnceLock<V>>>>);

impl<K, V> Default for Memo<K, V> {
    fn default() -> Self {
        Self(Mutex::new(HashMap::new()))
    }
}

impl<K: Eq + Hash, V: Clone> Memo<K, V> {
    /// The result of a key, computed if it is not known yet.
    pub(super) fn get(&self, key: K, compute: impl FnOnce() -> V) -> V {
        let cell = self.0.lock().unwrap_or_else(PoisonError::into_inner).entry(key).or_default().clone();
        cell.get_or_init(compute).clone()
    }
}
