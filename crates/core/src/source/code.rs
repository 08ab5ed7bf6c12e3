//! Every kind of problem a document can have, once: `explain`, docs and machine formats read it here.

macro_rules! codes {
    ($($variant:ident $word:literal $description:literal,)*) => {
        /// Kind of a problem in a document.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Code { $(#[doc = $description] $variant,)* }

        impl Code {
            /// All codes, in the order they are listed.
            pub const ALL: &'static [Code] = &[$(Code::$variant,)*];

            /// The plain words by which it is named, with hyphens.
            pub fn word(self) -> &'static str {
                match self { $(Code::$variant => $word,)* }
            }

            /// What it means, in one sentence.
            pub fn description(self) -> &'static str {
                match self { $(Code::$variant => $description,)* }
            }
        }
    };
}

codes! {
    Unreadable "unreadable" "The file could not be read.",
    NotText "not-text" "The file is not UTF-8 text, or holds a NUL.",
    EmptyFile "empty-file" "The file holds no document.",
    YamlSyntax "yaml-syntax" "The text is not YAML.",
    LimitReached "limit-reached" "A limit on size, depth, nodes or aliases was reached.",
    DuplicateKey "duplicate-key" "A key stands twice in one mapping.",
    UnknownKey "unknown-key" "The key is not one this document knows.",
    MissingKey "missing-key" "A key without which the document cannot be understood is left out.",
    WrongShape "wrong-shape" "A mapping, list or single value was expected and something else found.",
    WrongKind "wrong-kind" "The file is of another kind than the one asked for, or of none.",
    WrongEdition "wrong-edition" "The edition of the document kind is not known to this program.",
    NotAQuantity "not-a-quantity" "The text is not a number with a unit.",
    MissingUnit "missing-unit" "A bare number stands where a unit is needed.",
    UnknownUnit "unknown-unit" "The unit is not in the table.",
    WrongDimension "wrong-dimension" "The unit measures another kind of quantity.",
    NotFinite "not-finite" "The number is not finite.",
    OutOfRange "out-of-range" "The number is outside what the quantity can be.",
    BadUncertainty "bad-uncertainty" "The stated uncertainty cannot be read.",
    UnknownInstrument "unknown-instrument" "The instrument is not listed under `instruments`.",
    CannotAssume "cannot-assume" "The field has no typical range, so a value cannot be assumed.",
    UnknownWord "unknown-word" "The word is not one of those possible here.",
    Contradiction "contradiction" "Two statements exclude each other.",
    BadReference "bad-reference" "The reference names no readable file.",
    EscapingReference "escaping-reference" "The reference leaves the root folder.",
    CyclicReference "cyclic-reference" "The reference leads back to the file it stands in.",
    OutsideOilSpace "outside-oil-space" "A thing leaves the oil space or crosses a wall.",
    BadOutline "bad-outline" "The outline crosses itself or encloses nothing.",
    BadLog "bad-log" "The drive log lacks a column, or holds what cannot be a recording of a drive.",
    BadZone "bad-zone" "A zone cannot be built, or changes nothing.",
    BadSoundings "bad-soundings" "Soundings make no floor, or lines between them cross.",
    Overlap "overlap" "Two displacers overlap.",
    MeshUnreadable "mesh-unreadable" "The mesh file cannot be read.",
    MeshOpen "mesh-open" "The mesh is open, so that it encloses no volume.",
    MeshTurned "mesh-turned" "Faces of the mesh are turned against their neighbours, or the mesh is inside out.",
    MeshFaulty "mesh-faulty" "Faces of the mesh are doubled, without area, or more than two at an edge.",
    MeshCrosses "mesh-crosses" "The mesh passes through itself, or lies on itself.",
    MeshBodies "mesh-bodies" "The mesh holds several bodies, or one inside another that would be counted twice.",
    MeshUnit "mesh-unit" "The size of the mesh says that its unit is another.",
    MeshRail "mesh-rail" "The mesh does not end at the rail plane as it must.",
    NotSupportedYet "not-supported-yet" "This version does not read it yet.",
    BadFormula "bad-formula" "The formula or condition cannot be read.",
    UnknownName "unknown-name" "The name is no measure, word or path known here.",
    WrongFormulaDimension "wrong-formula-dimension" "The dimensions in a formula do not agree.",
    TwoKinds "two-kinds" "A formula joins measures of two kinds of object.",
    DuplicateRule "duplicate-rule" "Two rules have one id.",
    BadRule "bad-rule" "The rule lacks a part, or has one that does not fit.",
    EmptyReason "empty-reason" "What must be said in words is left as a placeholder.",
    NoDate "no-date" "What is read depends on the day, and the day is not given.",
    ExpiresSoon "expires-soon" "A concession ends within 30 days.",
    RemarkOutdated "remark-outdated" "A remark belongs to no finding, or to one that has changed since.",
    BadCase "bad-case" "The case of a rule is not formed as it should be.",
}
