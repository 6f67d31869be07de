//! A firm's own rates, to price the work by.

use serde::{Deserialize, Serialize};

/// Rates to price the work at a fixed sum. Money in the firm's own currency.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Rates {
    /// Currency as it is printed ("£").
    pub currency: String,
    /// Supplying, drilling, fixing and making good one tie.
    pub tie: f64,
    /// One pull test.
    pub test: f64,
    /// Isolating one old tie.
    pub isolate: f64,
    /// Removing one old tie and making good.
    pub remove: f64,
    /// One millilitre of resin.
    pub resin_ml: f64,
    /// Access for the whole job, a sum.
    pub access: f64,
    /// Setting up, welfare, insurances for the whole job, a sum.
    pub preliminaries: f64,
    /// Spare ties, per cent.
    pub spare: f64,
    /// Risk and overheads on the above, per cent.
    pub overheads: f64,
    /// Profit on all the above, per cent.
    pub profit: f64,
}
