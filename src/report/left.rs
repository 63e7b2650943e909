//! What of a schedule could not be read, and what is not used, as the lines of a page.

use super::page::unused_lines;
use crate::review::Review;

/// What of the schedule cannot be read, and what is not used.
pub(super) fn unread_or_unused(review: &Review) -> Vec<String> {
    let problems = review.problems.iter().map(|it| without_schedule(review, it.to_string()));
    problems.chain(not_used(review)).collect()
}

/// What the review does not use of the schedule.
pub(super) fn not_used(review: &Review) -> Vec<String> {
    const MOST_REMARKS: usize = 8;
    let lines = unused_lines(&review.unused, MOST_REMARKS).into_iter();
    lines.map(|line| without_schedule(review, line)).collect()
}

/// A line without the file, where that is the schedule.
pub(super) fn without_schedule(review: &Review, line: String) -> String {
    let own = format!("{}, ", review.schedule);
    line.strip_prefix(&own).map(str::to_owned).unwrap_or(line)
}
