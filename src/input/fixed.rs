//! Text whose columns are aligned by spaces, as copied from a PDF: finds it, and cuts its lines.

use super::cells::Row;

/// Fewer aligned lines are no table.
const FEWEST_LINES: usize = 3;

/// A stretch of a line without two spaces in it: the character it starts at, and its text.
type Stretch = (usize, String);

/// The rows of a text whose columns are aligned by spaces, numbered by line; `None` if it is not such a text. A line
/// has `separated` lines of the other kind to beat.
pub(super) fn rows(text: &str, separated: usize) -> Option<Vec<Row>> {
    if text.contains('\t') {
        return None;
    }
    // Counted before anything is kept: most texts are no such table, and long.
    let counts = text.lines().map(count_stretches);
    let aligned = counts.clone().filter(|count| *count >= 3).count();
    let filled = counts.filter(|count| *count > 0).count();
    if aligned < FEWEST_LINES || aligned <= separated || aligned * 5 < filled * 2 {
        return None;
    }
    let lines: Vec<Vec<char>> = text.lines().map(|line| line.trim_end().chars().collect()).collect();
    let cut: Vec<Vec<Stretch>> = lines.iter().map(|line| stretches(line)).collect();
    // The headings: of the lines with the most stretches, the first.
    let most = cut.iter().map(Vec::len).max()?;
    let starts: Vec<usize> = cut.iter().find(|line| line.len() == most)?.iter().map(|(at, _)| *at).collect();
    let is_edge = |start: usize| {
        let long = lines.iter().zip(&cut).filter(|(line, cut)| cut.len() >= 2 && line.len() > start);
        let (spaced, all) = long.fold((0, 0), |(spaced, all), (line, _)| {
            (spaced + usize::from(start == 0 || line[start - 1] == ' '), all + 1)
        });
        spaced * 10 >= all * 9
    };
    let edges: Vec<usize> = starts.iter().copied().filter(|start| is_edge(*start)).collect();
    let numbered = (1..).zip(lines.iter().zip(cut));
    let rows = numbered.filter(|(_, (_, cut))| !cut.is_empty()).map(|(number, (line, cut))| {
        let mut cells = vec![String::new(); starts.len()];
        // A title or a note across the table is one text.
        let is_across = cut.len() == 1;
        let parts = if is_across { cut } else { at_edges(line, &cut, &edges) };
        for (at, part) in parts {
            let nearest = starts.iter().position(|start| start.abs_diff(at) <= 2);
            let column =
                nearest.unwrap_or_else(|| starts.iter().rposition(|start| *start <= at).unwrap_or(0));
            let cell = &mut cells[column];
            if !cell.is_empty() {
                cell.push(' ');
            }
            cell.push_str(&part);
        }
        Row { number, cells: cells.into() }
    });
    Some(rows.collect())
}

/// The number of [`stretches`] of a line.
fn count_stretches(line: &str) -> usize {
    line.trim_end().split("  ").filter(|part| part.contains(|c| c != ' ')).count()
}

fn stretches(line: &[char]) -> Vec<Stretch> {
    let (mut found, mut spaces): (Vec<Stretch>, usize) = (Vec::new(), 2);
    for (at, c) in line.iter().enumerate() {
        if *c == ' ' {
            spaces += 1;
            continue;
        }
        match found.last_mut().filter(|_| spaces < 2) {
            Some((_, text)) => {
                text.extend(std::iter::repeat_n(' ', spaces));
                text.push(*c);
            }
            None => found.push((at, c.to_string())),
        }
        spaces = 0;
    }
    found
}

/// Cuts stretches where a column starts within them after a space.
fn at_edges(line: &[char], cut: &[Stretch], edges: &[usize]) -> Vec<Stretch> {
    let mut parts = Vec::new();
    for (start, text) in cut {
        let end = start + text.chars().count();
        let inner =
            edges.iter().copied().filter(|edge| *start < *edge && *edge < end && line[edge - 1] == ' ');
        let bounds: Vec<usize> = std::iter::once(*start).chain(inner).chain(std::iter::once(end)).collect();
        for pair in bounds.windows(2) {
            let part: String = line[pair[0]..pair[1]].iter().collect();
            parts.push((pair[0], part.trim_end().to_owned()));
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_aligned_by_spaces_are_cut() {
        let text = "SCHEDULE OF OUTLETS\n\nMARK    ITEM            SIZE\nHB-1    HOSE BIBB, 8 IN 3/4\n        LONG, BRASS\nHB-2    SILLCOCK        1/2\nHB-3    SILLCOCK        1/2\n";
        let rows: Vec<(u32, Vec<String>)> =
            rows(text, 0).unwrap().into_iter().map(|it| (it.number, it.cells.to_vec())).collect();
        assert_eq!(rows[0], (1, ["SCHEDULE OF OUTLETS", "", ""].map(str::to_owned).to_vec()));
        assert_eq!(rows[2], (4, ["HB-1", "HOSE BIBB, 8 IN", "3/4"].map(str::to_owned).to_vec()));
        assert_eq!(rows[3], (5, ["", "LONG, BRASS", ""].map(str::to_owned).to_vec()));
    }

    #[test]
    fn a_separated_table_is_none() {
        assert!(rows("a,b  c,d\n1,2,3\n1,2,3\n1,2,3\n", 4).is_none());
    }
}
