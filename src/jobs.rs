//! Runs independent jobs on all cores; what they give comes back in the order of the jobs, so that nothing that
//! is written depends on who was first.

use std::panic::resume_unwind;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Cores that there are; asked once, as the system answers by way of several files.
static CORES: LazyLock<usize> = LazyLock::new(|| thread::available_parallelism().map_or(1, usize::from));

/// Does `job` for each number below `count`. `began` is told of each on the calling thread's own share, to show
/// progress. A job that panics makes the caller panic.
pub fn each<T: Send>(count: usize, mut began: impl FnMut(usize), job: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let share = |began: &mut dyn FnMut(usize)| {
        let mut mine = Vec::new();
        loop {
            let k = next.fetch_add(1, Ordering::Relaxed);
            if k >= count {
                return mine;
            }
            began(k);
            mine.push((k, job(k)));
        }
    };
    let helpers = CORES.min(count).saturating_sub(1);
    let mut all = thread::scope(|scope| {
        let helpers: Vec<_> = (0..helpers).map(|_| scope.spawn(|| share(&mut |_| ()))).collect();
        let mut all = share(&mut began);
        for helper in helpers {
            all.extend(helper.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        all
    });
    all.sort_by_key(|(k, _)| *k);
    all.into_iter().map(|(_, made)| made).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Mutex;

    #[test]
    fn answers_come_in_the_order_of_the_jobs() {
        for count in [0, 1, 2, 7, 100] {
            let done = Mutex::new(Vec::new());
            let squares = each(
                count,
                |_| (),
                |k| {
                    done.lock().unwrap().push(k);
                    // the first ones take longest
                    thread::sleep(std::time::Duration::from_micros((count - k) as u64 * 10));
                    k * k
                },
            );
            assert_eq!(squares, (0..count).map(|k| k * k).collect::<Vec<_>>());
            let mut done = done.into_inner().unwrap();
            done.sort();
            assert_eq!(done, (0..count).collect::<Vec<_>>(), "each once");
        }
    }

    #[test]
    fn a_panic_is_not_swallowed() {
        let all = || each(8, |_| (), |k| assert!(k != 5, "the sixth fails"));
        assert!(std::panic::catch_unwind(all).is_err());
    }
}
