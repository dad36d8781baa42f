//! How timber and boards are fixed and boards finished: the rules by which what goes with them is counted.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::is_default;
use crate::id::Name;

/// The rules screws, tape, beads, filler and insulation are counted by, and what they cost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Sundries {
    /// Most between screws along the edges of a board, mm. UK specification clause K10/610: 300 (read).
    pub edge: f64,
    /// Most between screws inside a board, mm. K10/610: 300 (read).
    pub field: f64,
    /// Most between screws of a layer that another goes over, mm. K10/610 says the same for every layer.
    pub inner: f64,
    /// Most between screws of boards overhead, mm. Trade: 230 (from memory).
    pub overhead: f64,
    /// How far a screw goes into timber, mm. Trade: 22 to 25 (from memory).
    pub penetration: f64,
    /// Screws in a box. Common practice.
    pub screw_box: u32,
    /// Length of a roll of tape, mm. Common practice.
    pub roll: f64,
    /// Length of a bead, mm. Common practice.
    pub bead: f64,
    /// Filler for a metre of joint, kg. Trade: 0.3 to 0.5 kg and 1.1 to 1.4 m of tape to a square metre (from memory).
    pub filler: f64,
    /// What is in a bag or tub of filler, kg. Common practice.
    pub bag: f64,
    /// What a cartridge of sealant runs, mm: 310 ml in a bead 6 across. Computed.
    pub cartridge: f64,
    /// Insulation is cut so much wider than its bay, so that it holds itself, mm. Common practice.
    pub friction: f64,
    /// Screws or nails in each end of a stud, noggin, head, sill or joist. Common practice.
    pub joint_fixings: u32,
    /// Their length, mm. Common practice.
    pub joint_length: f64,
    /// How many there are in a box. Common practice.
    pub joint_box: u32,
    /// Most between fixings of plates that are not set out one by one, mm. Common practice.
    pub plate_apart: f64,
    /// Length of plate fixings, mm: through a plate and far enough into the floor. Common practice.
    pub plate_length: f64,
    /// How many there are in a box. Common practice.
    pub plate_box: u32,
    /// Packers of one thickness in a bag. Common practice.
    pub packer_bag: u32,
    /// Length of a roll of damp-proof course, mm. Common practice.
    pub damp_proof: f64,
    /// Prices of what is bought, by its name in the order.
    #[serde(skip_serializing_if = "is_default")]
    pub prices: BTreeMap<Name, f64>,
}

impl Default for Sundries {
    fn default() -> Sundries {
        Sundries {
            edge: 300.0,
            field: 300.0,
            inner: 300.0,
            overhead: 230.0,
            penetration: 25.0,
            screw_box: 500,
            roll: 90_000.0,
            bead: 2400.0,
            filler: 0.3,
            bag: 10.0,
            cartridge: 11_000.0,
            friction: 10.0,
            joint_fixings: 2,
            joint_length: 90.0,
            joint_box: 200,
            plate_apart: 600.0,
            plate_length: 100.0,
            plate_box: 100,
            packer_bag: 20,
            damp_proof: 30_000.0,
            prices: BTreeMap::new(),
        }
    }
}
