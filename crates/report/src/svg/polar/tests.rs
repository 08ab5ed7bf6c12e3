//! Charts: which of them there are, and what they say.
