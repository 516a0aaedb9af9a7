//! Lives through settings on several threads and hands out their rows in order.
//!
//! A thread takes the next setting that nobody has; a row waits until those before it have
//! been handed out.  Nobody runs further ahead than a window, so that memory stays flat
//! however unequal the settings are.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Condvar, Mutex, PoisonError, mpsc};

use anyhow::{Result, bail};

use crate::cli::progress::Progress;
use crate::study::{Schedules, SettingRow, Study, run_case};

/// Rows for each thread that may wait for an earlier one.
const WINDOW: usize = 16;

/// Threads that the machine offers.
pub(super) fn available_threads() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

/// How many rows have been handed out, and who waits for more.
struct Gate {
    handed: Mutex<usize>,
    moved: Condvar,
}

impl Gate {
    /// Waits until a place is within the window.
    fn wait(&self, place: usize, window: usize) {
        let handed = self.handed.lock().unwrap_or_else(PoisonError::into_inner);
        drop(
            self.moved
                .wait_while(handed, |handed| place >= handed.saturating_add(window))
                .unwrap_or_else(PoisonError::into_inner),
        );
    }

    fn set(&self, handed: usize) {
        *self.handed.lock().unwrap_or_else(PoisonError::into_inner) = handed;
        self.moved.notify_all();
    }
}

/// Runs settings; `take` gets their rows in the order of `settings`.
///
/// # Errors
/// What `take` came back with, at once; rows after it are lost.
pub(super) fn run(
    study: &Study,
    settings: &[usize],
    threads: usize,
    progress: &Progress,
    take: &mut dyn FnMut(SettingRow) -> Result<()>,
) -> Result<()> {
    let threads = threads.clamp(1, settings.len().max(1));
    let window = WINDOW * threads;
    let next = AtomicUsize::new(0);
    let gate = Gate {
        handed: Mutex::new(0),
        moved: Condvar::new(),
    };
    let schedules = Schedules::new();
    let (send, receive) = mpsc::channel::<(usize, SettingRow)>();
    std::thread::scope(|scope| {
        for _ in 0..threads {
            let (send, next, gate, schedules) = (send.clone(), &next, &gate, &schedules);
            scope.spawn(move || {
                loop {
                    let place = next.fetch_add(1, Ordering::Relaxed);
                    let Some(&setting) = settings.get(place) else {
                        return;
                    };
                    gate.wait(place, window);
                    let row = run_case(study, schedules, setting);
                    if send.send((place, row)).is_err() {
                        // Nobody listens any more: an earlier row could not be taken.
                        return;
                    }
                }
            });
        }
        drop(send);
        let mut waiting = BTreeMap::new();
        let mut n_handed = 0;
        let mut result = Ok(());
        for (place, row) in &receive {
            waiting.insert(place, row);
            while let Some(row) = waiting.remove(&n_handed) {
                result = take(row);
                if result.is_err() {
                    break;
                }
                n_handed += 1;
                progress.set(n_handed as f64 / settings.len() as f64);
            }
            gate.set(n_handed);
            if result.is_err() {
                break;
            }
        }
        // Lets every thread come to its end.
        next.store(settings.len(), Ordering::Relaxed);
        gate.set(usize::MAX);
        drop(receive);
        result?;
        if n_handed < settings.len() {
            bail!("a setting was lost");
        }
        Ok(())
    })
}
