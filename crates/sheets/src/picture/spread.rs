//! Spreads labels along a line so that none touches its neighbour and each stays as near to its mark as
//! the others let it.

/// Positions for labels that belong at `marks` (in rising order) and are `widths` wide along the line, so
/// that neighbours are at least `gap` apart. The order is kept, a label with room does not move,
/// and the sum of squared shifts is the least possible.
///
/// Labels that push one another form a block that shares the average of what its members want
/// (pool adjacent violators).
pub fn spread(marks: &[f64], widths: &[f64], gap: f64) -> Vec<f64> {
    // With each label's own offset taken off, “apart enough” becomes “not falling”.
    let mut offset = 0.0;
    let mut offsets = Vec::with_capacity(marks.len());
    let mut blocks: Vec<(f64, usize)> = Vec::with_capacity(marks.len());
    for (i, mark) in marks.iter().enumerate() {
        if i > 0 {
            offset += (widths[i - 1] + widths[i]) / 2.0 + gap;
        }
        offsets.push(offset);
        let mut block = (mark - offset, 1);
        while let Some(&(mean, count)) = blocks.last() {
            if mean <= block.0 {
                break;
            }
            blocks.pop();
            let all = count + block.1;
            block = ((mean * count as f64 + block.0 * block.1 as f64) / all as f64, all);
        }
        blocks.push(block);
    }
    let means = blocks.iter().flat_map(|&(mean, count)| std::iter::repeat_n(mean, count));
    means.zip(offsets).map(|(mean, offset)| mean + offset).collect()
}

/// The same, with none beyond `most`.
pub fn spread_up_to(marks: &[f64], widths: &[f64], gap: f64, most: f64) -> Vec<f64> {
    let mut at = spread(marks, widths, gap);
    let mut limit = most;
    for i in (0..at.len()).rev() {
        at[i] = at[i].min(limit);
        let before = i.checked_sub(1).map_or(0.0, |k| widths[k]);
        limit = at[i] - (before + widths[i]) / 2.0 - gap;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_with_room_stay_on_their_marks() {
        let marks = [0.0, 15.08, 31.08];
        assert_eq!(spread(&marks, &[4.0; 3], 0.5), marks);
        assert!(spread(&[], &[], 1.0).is_empty());
    }

    #[test]
    fn two_at_one_mark_move_apart_evenly() {
        assert_eq!(spread(&[10.0, 10.0], &[4.0, 4.0], 1.0), [7.5, 12.5]);
    }

    /// What would go beyond pushes the ones before it back; what does not stays.
    #[test]
    fn none_goes_beyond_the_most() {
        assert_eq!(spread_up_to(&[2.0, 9.8, 10.0], &[4.0; 3], 1.0, 10.0), [0.0, 5.0, 10.0]);
        assert_eq!(spread_up_to(&[2.0, 9.0], &[4.0; 2], 1.0, 10.0), [2.0, 9.0]);
        assert!(spread_up_to(&[], &[], 1.0, 5.0).is_empty());
    }

    /// Laws: neighbours are apart, order is kept, and no shift of one block alone would do better.
    #[test]
    fn spread_labels_are_apart_and_balanced() {
        let mut seed = 7u64;
        let mut next = || {
            seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            (seed >> 33) as f64 / (1u64 << 31) as f64
        };
        for _ in 0..300 {
            let count = 1 + (next() * 20.0) as usize;
            let mut marks: Vec<f64> = (0..count).map(|_| next() * 60.0).collect();
            marks.sort_by(f64::total_cmp);
            let widths: Vec<f64> = (0..count).map(|_| 2.0 + next() * 8.0).collect();
            let at = spread(&marks, &widths, 0.5);
            let apart = |i: usize| (widths[i - 1] + widths[i]) / 2.0 + 0.5;
            let mut start = 0;
            for i in 1..=count {
                let touching = i < count && at[i] - at[i - 1] <= apart(i) + 1e-9;
                assert!(i == count || at[i] - at[i - 1] >= apart(i) - 1e-9);
                if !touching {
                    let pull: f64 = (start..i).map(|k| marks[k] - at[k]).sum();
                    assert!(pull.abs() < 1e-6, "a block is pulled to one side by {pull}");
                    start = i;
                }
            }
        }
    }
}
