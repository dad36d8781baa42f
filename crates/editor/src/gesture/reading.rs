//! Drags of levels that were read on site, and new ones on the hand.

use layout_core::document::{Edit, Job, Reading};
use layout_core::id::{ItemRef, Surface};
use layout_core::math::{ON_LINE, PlanPoint, PlanVector, round_to};

use super::{Gesture, Grip};

impl Gesture {
    pub(super) fn edit_reading(&self, base: &Job) -> Option<Edit> {
        match &self.grip {
            Grip::Reading { wall: None, surface, index } => {
                let mut readings = base.levels.readings.of(*surface).clone();
                let reading = readings.get_mut(*index)?;
                reading.at = self.carried(reading.at, base);
                Some(Edit::SetReadings { surface: *surface, readings })
            }
            Grip::Reading { wall: Some(wall), surface, index } => {
                let mut readings = base.wall(wall)?.readings(*surface).clone();
                let reading = readings.get_mut(*index)?;
                reading.0 = round_to(reading.0 + self.along(base, wall), 0.01);
                // A number is the distance, two are distance and level.
                match self.numbers()[..] {
                    [] => {}
                    [along] => reading.0 = along,
                    [along, level, ..] => *reading = (along, level),
                }
                Some(Edit::SetWallReadings { wall: wall.clone(), surface: *surface, readings })
            }
            Grip::NewReading { wall: None, surface, .. } => {
                let mut readings = base.levels.readings.of(*surface).clone();
                let mut at = self.now;
                if let [x, y, _, ..] = self.numbers()[..] {
                    at = base.datum.at + PlanVector::new(x, y);
                }
                readings.retain(|r| (r.at - at).norm() > ON_LINE);
                readings.push(Reading { at, level: self.new_level(base)? });
                Some(Edit::SetReadings { surface: *surface, readings })
            }
            Grip::NewReading { wall: Some(wall), surface, .. } => {
                let mut readings = base.wall(wall)?.readings(*surface).clone();
                let along = match self.numbers()[..] {
                    [along, _, ..] => along,
                    _ => round_to(self.station(base, wall)?, 0.01),
                };
                // Read again, it takes the place of what was read there.
                readings.retain(|r| (r.0 - along).abs() > ON_LINE);
                readings.push((along, self.new_level(base)?));
                Some(Edit::SetWallReadings { wall: wall.clone(), surface: *surface, readings })
            }
            _ => None,
        }
    }

    /// The level of a new reading: the last number typed, else what is taken to be there. From the laser line it is
    /// measured down to a floor and up to a ceiling, with or without a sign.
    fn new_level(&self, base: &Job) -> Option<f64> {
        let Grip::NewReading { surface, level, from_laser, .. } = &self.grip else { return None };
        Some(match (self.numbers().last(), surface) {
            (None, _) => *level,
            (Some(typed), _) if !from_laser => *typed,
            (Some(typed), Surface::Floor) => base.levels.laser - typed.abs(),
            (Some(typed), Surface::Ceiling) => base.levels.laser + typed.abs(),
        })
    }

    /// What letting go puts in the job, for picking it.
    pub fn made(&self, base: &Job) -> Option<ItemRef> {
        let Grip::NewReading { wall, surface, .. } = &self.grip else { return self.grip.item() };
        let count = match self.edit(base)? {
            Edit::SetReadings { readings, .. } => readings.len(),
            Edit::SetWallReadings { readings, .. } => readings.len(),
            _ => 0,
        };
        let index = count.checked_sub(1)?;
        Some(ItemRef::Reading { wall: wall.clone(), surface: *surface, index })
    }

    /// The reading in the hand after `edit`: its place on the plan or along its wall, and its level.
    pub(super) fn read_in(&self, edit: &Edit) -> Option<(Read, f64)> {
        let index = match &self.grip {
            Grip::Reading { index, .. } => Some(*index),
            _ => None,
        };
        match edit {
            Edit::SetReadings { readings, .. } => {
                let reading = readings.get(index.unwrap_or(readings.len().checked_sub(1)?))?;
                Some((Read::InRoom(reading.at), reading.level))
            }
            Edit::SetWallReadings { readings, .. } => {
                let reading = readings.get(index.unwrap_or(readings.len().checked_sub(1)?))?;
                Some((Read::Along(reading.0), reading.1))
            }
            _ => None,
        }
    }
}

/// Where a level was read.
pub(super) enum Read {
    /// In the room.
    InRoom(PlanPoint),
    /// Along a wall, from its start node.
    Along(f64),
}
