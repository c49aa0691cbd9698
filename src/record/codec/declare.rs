//! The words in which the record is declared.

/// Generates the table of parts of a struct that has these fields and `rest`.
macro_rules! object {
    ($name:ident { $($field:ident: $ty:ty,)* }) => {
        impl Object for $name {
            fn names(&self) -> &'static [&'static str] {
                &[$(stringify!($field)),*]
            }

            fn references(&self) -> &'static [&'static [Among]] {
                &[$(<$ty as Field>::NAMES),*]
            }

            fn parts(&self) -> Vec<Part<'_>> {
                vec![$(self.$field.part()),*]
            }

            fn parts_mut(&mut self) -> Vec<PartMut<'_>> {
                vec![$(self.$field.part_mut()),*]
            }

            fn rest(&self) -> &Rest {
                &self.rest
            }

            fn rest_mut(&mut self) -> &mut Rest {
                &mut self.rest
            }
        }
    };
}

/// Declares an entry: a part of the record with an id, a stamp and a deletion of its own.
macro_rules! entry {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default)]
        pub struct $name {
            /// Which one.
            pub id: Id,
            /// When it was first written.
            pub stamp: Stamp,
            /// Fields written later than that, dotted, and when.
            pub edited: Edited,
            /// Whether it has been taken out.
            pub deleted: bool,
            $($(#[$fdoc])* pub $field: $ty,)*
            /// Fields that this version does not know.
            pub rest: Rest,
        }

        object! { $name { $($field: $ty,)* } }

        impl Entry for $name {
            fn most() -> usize {
                const { most(stringify!($name)) }
            }

            fn id(&self) -> &Id {
                &self.id
            }

            fn stamp(&self) -> &Stamp {
                &self.stamp
            }

            fn deleted(&self) -> bool {
                self.deleted
            }

            fn set_deleted(&mut self, deleted: bool) {
                self.deleted = deleted;
            }
        }

        impl Identified for $name {
            fn mark(&self) -> Mark<'_> {
                Mark { id: &self.id, stamp: &self.stamp, edited: &self.edited, deleted: self.deleted }
            }

            fn mark_mut(&mut self) -> MarkMut<'_> {
                MarkMut {
                    id: &mut self.id,
                    stamp: &mut self.stamp,
                    edited: &mut self.edited,
                    deleted: &mut self.deleted,
                }
            }
        }

        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool {
                same_entry(self, other)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                Written::entry(self).serialize(serializer)
            }
        }
    };
}

/// Declares a group: a part of an entry without an identity. Its fields merge one by one under the entry's stamps.
macro_rules! group {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default)]
        pub struct $name {
            $($(#[$fdoc])* pub $field: $ty,)*
            /// Fields that this version does not know.
            pub rest: Rest,
        }

        object! { $name { $($field: $ty,)* } }

        impl Field for $name {
            fn part(&self) -> Part<'_> {
                Part::Group(self)
            }

            fn part_mut(&mut self) -> PartMut<'_> {
                PartMut::Group(self)
            }
        }

        impl Leaf for $name {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                let Value::Object(map) = value else {
                    reader.remark("must be an object");
                    return None;
                };
                let mut group = Self::default();
                read_object(&mut group, map.clone(), reader);
                Some(group)
            }
        }

        impl PartialEq for $name {
            fn eq(&self, other: &Self) -> bool {
                same_object(self, other)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                Written::group(self).serialize(serializer)
            }
        }
    };
}

/// Declares words a field may hold; another word is remarked on and kept as it stood.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl Leaf for $name {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                match value.as_str() {
                    $(Some($word) => Some(Self::$variant),)+
                    _ => {
                        reader.remark(concat!("must be one of:" $(, " ", $word)+));
                        None
                    }
                }
            }
        }
    };
}

/// Declares what references name: the lists in which it is looked for.
macro_rules! named {
    ($($kind:ty: $($among:expr),+;)+) => {$(
        impl Named for $kind {
            const AMONG: &'static [Among] = &[$($among),+];
        }
    )+};
}

pub(crate) use {entry, group, named, object, words};
