//! The macros by which the record is declared.

/// Generates [`Object`] for a struct that has these fields and `rest`.
macro_rules! object {
    ($name:ident { $($field:ident: $ty:ty,)* }) => {
        impl Object for $name {
            fn read_fields(mut map: Map<String, Value>, reader: &mut Reader) -> Self {
                let mut object = Self::default();
                $(object.$field = reader.take(&mut map, stringify!($field));)*
                object.read_mark(&mut map, reader);
                object.rest = map;
                object
            }

            fn settle_fields(&mut self, before: &Self, prefix: &str, edited: &mut Edited, pen: &mut Pen<'_>) {
                $(if self.$field != before.$field {
                    self.$field.settle(&before.$field, &dotted(prefix, stringify!($field)), edited, pen);
                })*
                if self.rest != before.rest {
                    self.rest.settle(&before.rest, &dotted(prefix, "rest"), edited, pen);
                }
            }

            fn settle_new_fields(&mut self, pen: &mut Pen<'_>) {
                $(self.$field.settle_new(pen);)*
            }

            fn join_fields(&mut self, theirs: &Self, prefix: &str, sides: &mut Sides<'_>) {
                $(self.$field.join(&theirs.$field, &dotted(prefix, stringify!($field)), sides);)*
                self.rest.join(&theirs.rest, &dotted(prefix, "rest"), sides);
            }

            fn field_stamps(&self, see: &mut dyn FnMut(&Stamp)) {
                $(self.$field.stamps(see);)*
            }

            fn entry_in_fields(&mut self, id: &Id) -> Option<&mut dyn Entry> {
                $(if let Some(entry) = self.$field.entry_mut(id) {
                    return Some(entry);
                })*
                None
            }

            fn restore_fields(&mut self, place: &str) {
                $(self.$field.restore(&dotted(place, stringify!($field)));)*
            }
        }
    };
}

/// Declares an entry: a part of the record with an id, a stamp and a deletion of its own.
macro_rules! entry {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq)]
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

        impl $name {
            fn read_mark(&mut self, map: &mut Map<String, Value>, reader: &mut Reader) {
                self.id = reader.take::<Option<Id>>(map, "id").unwrap_or_default();
                self.stamp = reader.take::<Option<Stamp>>(map, "stamp").unwrap_or_default();
                self.edited = reader.take(map, "edited");
                self.deleted = reader.take(map, "deleted");
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut lines = Lines::new(serializer.serialize_map(None)?);
                lines.field("id", self.id.0.is_empty(), &self.id)?;
                $(lines.field(stringify!($field), self.$field.absent(), &self.$field)?;)*
                lines.field("deleted", !self.deleted, &self.deleted)?;
                lines.field("stamp", self.stamp == Stamp::default(), &self.stamp)?;
                lines.field("edited", self.edited.is_empty(), &self.edited)?;
                lines.rest(&self.rest)
            }
        }

        object! { $name { $($field: $ty,)* } }

        impl Entry for $name {
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
            fn set_id(&mut self, id: Id) {
                self.id = id;
            }

            fn set_stamp(&mut self, stamp: Stamp) {
                self.stamp = stamp;
            }

            fn edited(&self) -> &Edited {
                &self.edited
            }

            fn edited_mut(&mut self) -> &mut Edited {
                &mut self.edited
            }
        }
    };
}

/// Declares a group: a part of an entry without an identity. Its fields merge one by one under the entry's stamps.
macro_rules! group {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name {
            $($(#[$fdoc])* pub $field: $ty,)*
            /// Fields that this version does not know.
            pub rest: Rest,
        }

        impl $name {
            fn read_mark(&mut self, _map: &mut Map<String, Value>, _reader: &mut Reader) {}
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut lines = Lines::new(serializer.serialize_map(None)?);
                $(lines.field(stringify!($field), self.$field.absent(), &self.$field)?;)*
                lines.rest(&self.rest)
            }
        }

        object! { $name { $($field: $ty,)* } }

        impl Leaf for $name {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                match value {
                    Value::Object(map) => Some(Self::read_fields(map.clone(), reader)),
                    _ => {
                        reader.remark("must be an object");
                        None
                    }
                }
            }
        }

        impl Field for $name {
            fn read(value: &Value, reader: &mut Reader) -> Option<Self> {
                Self::parse(value, reader)
            }

            fn settle(&mut self, before: &Self, path: &str, edited: &mut Edited, pen: &mut Pen<'_>) {
                self.settle_fields(before, path, edited, pen);
            }

            fn settle_new(&mut self, pen: &mut Pen<'_>) {
                self.settle_new_fields(pen);
            }

            fn join(&mut self, theirs: &Self, path: &str, sides: &mut Sides<'_>) {
                self.join_fields(theirs, path, sides);
            }

            fn stamps(&self, see: &mut dyn FnMut(&Stamp)) {
                self.field_stamps(see);
            }

            fn entry_mut(&mut self, id: &Id) -> Option<&mut dyn Entry> {
                self.entry_in_fields(id)
            }

            fn restore(&mut self, place: &str) {
                self.restore_fields(place);
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

pub(in crate::record) use {entry, group, object, words};
