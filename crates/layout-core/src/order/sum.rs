//! What an order costs: goods, discount, delivery, tax.

use super::{OrderLine, hundredth};
use crate::document::Buying;

/// What an order costs, each part to a hundredth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sum {
    /// The lines that have a price.
    pub goods: f64,
    /// How many lines have none, and are in no sum.
    pub unpriced: usize,
    /// Taken off the goods.
    pub discount: f64,
    /// Delivery.
    pub delivery: f64,
    /// True when delivery costs nothing because the goods come to so much.
    pub delivered_free: bool,
    /// Tax on goods and delivery.
    pub tax: f64,
    /// All of it.
    pub total: f64,
}

impl Sum {
    /// Adds up an order.
    pub(super) fn of(lines: &[OrderLine], buying: &Buying) -> Sum {
        let goods = hundredth(lines.iter().filter_map(|l| l.price).sum());
        let unpriced = lines.iter().filter(|l| l.price.is_none()).count();
        let discount = hundredth(goods * buying.discount / 100.0);
        let net = hundredth(goods - discount);
        let free = buying.free_from.is_some_and(|from| net >= from);
        let delivery = if free || lines.is_empty() { 0.0 } else { hundredth(buying.delivery) };
        let tax = hundredth((net + delivery) * buying.tax / 100.0);
        Sum {
            goods,
            unpriced,
            discount,
            delivery,
            delivered_free: free && buying.delivery > 0.0 && !lines.is_empty(),
            tax,
            total: hundredth(net + delivery + tax),
        }
    }

    /// The parts with their names, the total last; only those that are something. Nothing when no line has a price.
    pub fn parts(&self, buying: &Buying) -> Vec<(String, f64)> {
        if self.goods <= 0.0 {
            return Vec::new();
        }
        let mut parts = vec![("Goods".to_string(), self.goods)];
        if self.discount > 0.0 {
            parts.push((format!("Discount {} %", buying.discount), -self.discount));
        }
        if self.delivered_free {
            parts.push(("Delivery, free from this sum".into(), 0.0));
        } else if self.delivery > 0.0 {
            parts.push(("Delivery".into(), self.delivery));
        }
        if self.tax > 0.0 {
            parts.push((format!("Tax {} %", buying.tax), self.tax));
        }
        if parts.len() > 1 {
            parts.push(("Total".into(), self.total));
        }
        parts
    }

    /// “2 lines have no price and are not in it”; nothing when all have one.
    pub fn missing_in_words(&self) -> Option<String> {
        match self.unpriced {
            0 => None,
            1 => Some("1 line has no price and is not in it".into()),
            n => Some(format!("{n} lines have no price and are not in it")),
        }
    }
}
