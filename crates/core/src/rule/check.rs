//! Dimensions and kinds of object, checked before any value exists.
