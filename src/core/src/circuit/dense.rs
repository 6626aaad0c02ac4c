//! A small dense system, solved by elimination with row exchanges. Sizes are the number of tools in hand.

#[derive(Clone, Debug, Default)]
pub(super) struct Dense {
    size: usize,
    /// Rows of `size + 1`, the right-hand side last.
    cells: Vec<f64>,
}

impl Dense {
    pub(super) fn clear(&mut self, size: usize) {
        self.size = size;
        self.cells.clear();
        self.cells.resize(size * (size + 1), 0.0);
    }

    pub(super) fn cell(&mut self, row: usize, column: usize) -> &mut f64 {
        &mut self.cells[row * (self.size + 1) + column]
    }

    pub(super) fn right(&mut self, row: usize) -> &mut f64 {
        let size = self.size;
        self.cell(row, size)
    }

    /// Leaves the solution in `right`. False if the matrix is singular.
    pub(super) fn solve(&mut self) -> bool {
        let size = self.size;
        for k in 0..size {
            let mut best = k;
            for row in k + 1..size {
                if self.cell(row, k).abs() > self.cell(best, k).abs() {
                    best = row;
                }
            }
            let pivot = *self.cell(best, k);
            if pivot == 0.0 || !pivot.is_finite() {
                return false;
            }
            if best != k {
                for column in k..=size {
                    let other = *self.cell(best, column);
                    *self.cell(best, column) = std::mem::replace(self.cell(k, column), other);
                }
            }
            for row in k + 1..size {
                let share = *self.cell(row, k) / pivot;
                if share != 0.0 {
                    for column in k + 1..=size {
                        let above = *self.cell(k, column);
                        *self.cell(row, column) -= share * above;
                    }
                }
            }
        }
        for k in (0..size).rev() {
            let mut sum = *self.right(k);
            for column in k + 1..size {
                sum -= *self.cell(k, column) * *self.right(column);
            }
            *self.right(k) = sum / *self.cell(k, k);
        }
        true
    }
}
