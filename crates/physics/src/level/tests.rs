//! Levels against closed forms.
