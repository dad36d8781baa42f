//! How many bars to buy so that enough of them are straight, when each is not with a certain chance, on its own and
//! whatever the others are: the binomial distribution.

/// Beyond so many the normal distribution stands for it.
const MANY: u64 = 100_000;

/// The chance that of `bought` bars at least `straight` are, when each is crooked with the chance `crooked`.
pub fn chance(straight: u64, bought: u64, crooked: f64) -> f64 {
    let Some(most) = bought.checked_sub(straight) else { return 0.0 };
    if straight == 0 || crooked <= 0.0 {
        return 1.0;
    }
    if crooked >= 1.0 {
        return 0.0;
    }
    if bought > MANY {
        let (mean, spread) =
            (bought as f64 * crooked, (bought as f64 * crooked * (1.0 - crooked)).sqrt());
        return normal((most as f64 + 0.5 - mean) / spread);
    }
    // Of none, one, two … crooked ones, by their logarithms so that nothing vanishes.
    let ratio = (crooked / (1.0 - crooked)).ln();
    let mut term = bought as f64 * (-crooked).ln_1p();
    let mut sum = term.exp();
    for k in 0..most {
        term += ((bought - k) as f64 / (k + 1) as f64).ln() + ratio;
        sum += term.exp();
    }
    sum.min(1.0)
}

/// The least number of bars of which at least `straight` are, with the chance `sure`; `None` where no number would do.
pub fn to_buy(straight: u64, crooked: f64, sure: f64) -> Option<u64> {
    if straight == 0 || crooked <= 0.0 {
        return Some(straight);
    }
    if crooked >= 1.0 || sure >= 1.0 {
        return None;
    }
    let enough = |n: u64| chance(straight, n, crooked) >= sure;
    let mut high = straight;
    while !enough(high) {
        high = high.checked_mul(2)?;
    }
    let mut low = straight.max(high / 2);
    // Not enough below `low`, enough at `high`.
    while low < high {
        let middle = low + (high - low) / 2;
        if enough(middle) { high = middle } else { low = middle + 1 }
    }
    Some(high)
}

/// The normal distribution, to 1e-7 (W. J. Cody's and others' rational approximation of the error function is finer; this
/// is formula 26.2.17 of the Handbook of Mathematical Functions, 1964, from memory).
fn normal(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * x.abs());
    let tail = [0.319_381_530, -0.356_563_782, 1.781_477_937, -1.821_255_978, 1.330_274_429];
    let poly = tail.iter().rev().fold(0.0, |sum, c| (sum + c) * t);
    let beyond = (-x * x / 2.0).exp() / std::f64::consts::TAU.sqrt() * poly;
    if x < 0.0 { beyond } else { 1.0 - beyond }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Computed with a statistics library; `tests/interop` does it again.
    #[test]
    fn enough_are_bought_to_be_sure_of_forty() {
        let of = |straight, crooked| to_buy(straight, crooked, 0.95).unwrap();
        assert_eq!([0.05, 0.10, 0.20].map(|p| of(20, p)), [23, 25, 29]);
        assert_eq!([0.05, 0.10, 0.20].map(|p| of(40, p)), [45, 48, 56]);
        assert_eq!([0.05, 0.10, 0.20].map(|p| of(80, p)), [88, 94, 109]);
    }

    /// By hand: two straight of two at one in ten crooked are 0.81, of three 0.81 + 2 · 0.081 = 0.972.
    #[test]
    fn two_of_three() {
        assert!((chance(2, 2, 0.1) - 0.81).abs() < 1e-12);
        assert!((chance(2, 3, 0.1) - 0.972).abs() < 1e-12);
        assert_eq!([0.8, 0.9, 0.98].map(|sure| to_buy(2, 0.1, sure)), [2, 3, 4].map(Some));
    }

    #[test]
    fn what_is_sure_and_what_cannot_be() {
        assert_eq!((chance(0, 0, 0.5), chance(1, 0, 0.0), chance(1, 9, 1.0)), (1.0, 0.0, 0.0));
        assert_eq!((to_buy(0, 0.9, 0.99), to_buy(7, 0.0, 1.0)), (Some(0), Some(7)));
        assert_eq!((to_buy(1, 1.0, 0.5), to_buy(1, 0.5, 1.0)), (None, None));
        // Where the normal distribution takes over nothing jumps.
        let (below, above) = (chance(90_150, MANY, 0.1), chance(90_150, MANY + 1, 0.1));
        assert!((below - above).abs() < 2e-3, "{below} {above}");
        let many = to_buy(1_000_000_000, 0.1, 0.95).unwrap();
        assert!((1_111_111_111..1_111_200_000).contains(&many), "{many}");
    }
}
