//! Parts of a site that a person can point at, repair or replace.

use serde::{Deserialize, Serialize};

macro_rules! parts {
    ($($variant:ident $name:literal $label:literal;)*) => {
        /// A part that a person can point at.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        #[non_exhaustive]
        pub enum PartId {
            $(#[doc = $label] $variant,)*
        }

        impl PartId {
            /// Every part, from the source to the supply.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// Name in files and commands.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $name,)* }
            }

            /// Name for people.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self { $(Self::$variant => $label,)* }
            }

            /// The part of a name; none when there is no such part.
            #[must_use]
            pub fn from_name(name: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|part| part.name() == name)
            }
        }
    };
}

parts! {
    Source "source" "source";
    Intake "intake" "intake";
    FootValve "foot_valve" "foot valve";
    SuctionPipe "suction_pipe" "suction pipe";
    Pump "pump" "pump";
    Motor "motor" "motor";
    DropCable "drop_cable" "drop cable";
    Splice "splice" "splice";
    Earth "earth" "earth conductor";
    CheckValve "check_valve" "check valve";
    Riser "riser" "riser";
    SourceValve "source_valve" "source valve";
    Run "run" "buried run";
    WallManifold "wall_manifold" "pipework at the wall";
    PressureSwitch "pressure_switch" "pressure switch";
    Gauge "gauge" "gauge";
    ReliefValve "relief_valve" "relief valve";
    Tank "tank" "tank";
    TankValve "tank_valve" "tank valve";
    HouseValve "house_valve" "house valve";
    Filter "filter" "filter";
    HousePipe "house_pipe" "house pipe";
    Toilet "toilet" "toilet";
    Fixtures "fixtures" "outlets";
    Heater "heater" "water heater";
    Supply "supply" "supply";
    Breaker "breaker" "breaker";
    Cable "cable" "cable";
    FloatSwitch "float_switch" "float switch";
    Capacitor "capacitor" "capacitor";
    None "none" "no part";
}
