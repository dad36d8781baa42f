//! Identities that stay: the same thing of the same job has the same `GlobalId` in every file, so that who reads a
//! second one sees what changed.

/// The alphabet of IFC's base 64.
const ALPHABET: &[u8; 64] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$";

/// The identity of what `parts` name: the job, what kind of thing, its wall, its mark …
pub(super) fn guid(parts: &[&str]) -> String {
    compressed(uuid(parts))
}

/// A UUID of version 8 (RFC 9562: made by a rule of one's own): FNV-1a of 128 bits over the parts, each ended by a
/// byte that no text has.
fn uuid(parts: &[&str]) -> u128 {
    const BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
    const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
    let bytes = parts.iter().flat_map(|p| p.bytes().chain([0xff]));
    let hash = bytes.fold(BASIS, |hash, b| (hash ^ u128::from(b)).wrapping_mul(PRIME));
    let marked = hash & !(0xf << 76) | (0x8 << 76);
    marked & !(0x3 << 62) | (0x2 << 62)
}

/// 128 bits in 22 characters: two bits in the first, six in each of the others.
fn compressed(uuid: u128) -> String {
    let digit = |i: u32| ALPHABET[(uuid >> (6 * (21 - i)) & 0x3f) as usize] as char;
    (0..22).map(digit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identities_are_22_characters_and_differ() {
        let one = guid(&["Annexe", "member", "A", "S3"]);
        assert_eq!(one.len(), 22);
        assert!(('0'..='3').contains(&one.chars().next().unwrap()));
        assert_eq!(one, guid(&["Annexe", "member", "A", "S3"]));
        assert_ne!(one, guid(&["Annexe", "member", "A", "S4"]));
        // Where one part ends and the next begins counts.
        assert_ne!(guid(&["ab", "c"]), guid(&["a", "bc"]));
    }

    #[test]
    fn compression_keeps_the_bits() {
        assert_eq!(compressed(0), "0".repeat(22));
        assert_eq!(compressed(u128::MAX), format!("3{}", "$".repeat(21)));
        assert_eq!(compressed(1), format!("{}1", "0".repeat(21)));
    }

    // FNV's own published test value of 128 bits for "a": d228cb696f1a8caf78912b704e4a8964 (from memory; agrees).
    #[test]
    fn the_hash_is_the_published_one() {
        const BASIS: u128 = 0x6c62_272e_07bb_0142_62b8_2175_6295_c58d;
        const PRIME: u128 = 0x0000_0000_0100_0000_0000_0000_0000_013b;
        let hash = (BASIS ^ u128::from(b'a')).wrapping_mul(PRIME);
        assert_eq!(hash, 0xd228_cb69_6f1a_8caf_7891_2b70_4e4a_8964);
        let uuid = uuid(&["a"]);
        assert_eq!((uuid >> 76 & 0xf, uuid >> 62 & 0x3), (8, 2));
    }
}
