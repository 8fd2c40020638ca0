//! Enums whose variants are words of the files.

/// A choice of words in a file.
pub trait Word: Copy + Sized + 'static {
    /// Every word with its meaning, in the order of the variants.
    const WORDS: &'static [(&'static str, &'static str)];
    /// The variant of a word.
    fn named(word: &str) -> Option<Self>;
    /// The word of the variant.
    fn word(self) -> &'static str;
}

/// Declares an enum together with the word that stands for each variant in a file.
macro_rules! words {
    ($(#[$meta:meta])* $name:ident { $($variant:ident = $word:literal: $doc:literal),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum $name {
            $(#[doc = $doc] $variant),+
        }

        impl $crate::define::words::Word for $name {
            const WORDS: &'static [(&'static str, &'static str)] = &[$(($word, $doc)),+];

            fn named(word: &str) -> Option<Self> {
                match word {
                    $($word => Some($name::$variant),)+
                    _ => None,
                }
            }

            fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word),+
                }
            }
        }
    };
}

pub(super) use words;
