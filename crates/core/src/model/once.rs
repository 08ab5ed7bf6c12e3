//! What is made once for a scene, with what of its documents was looked at for it: whoever uses it looks at the same.

use super::looked::Looked;
use super::scene::Scene;
use std::sync::OnceLock;

/// Something that is made when it is first asked for.
#[derive(Debug, Clone)]
pub(super) struct Once<T>(OnceLock<(T, Looked)>);

impl<T> Default for Once<T> {
    fn default() -> Self {
        Self(OnceLock::new())
    }
}

impl<T> Once<T> {
    /// What was made of a scene; `make` must not run on other threads, nor ask for the same.
    pub(super) fn get(&self, scene: &Scene, make: impl FnOnce() -> T) -> &T {
        let (made, looked) = self.0.get_or_init(|| {
            let before = scene.take_looked();
            let made = make();
            let looked = scene.take_looked();
            scene.note(&before);
            (made, looked)
        });
        scene.note(looked);
        made
    }
}
