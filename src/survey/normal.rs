//! Normal equations: a symmetric matrix, its Cholesky factor, what it leaves free, its inverse.
//!
//! Sums run in a fixed order with four partial sums, so that they are fast and the same everywhere.

/// A pivot below this share of its diagonal entry leaves its unknown free: two directions of sight that cross at
/// less than 1e-5 rad say nothing of where they cross.
const FREE: f64 = 1e-10;

/// A square matrix, row by row.
#[derive(Clone, Debug)]
pub struct Matrix {
    n: usize,
    a: Vec<f64>,
}

impl Matrix {
    /// All zeros.
    pub fn zero(n: usize) -> Matrix {
        Matrix { n, a: vec![0.0; n * n] }
    }

    /// Rows.
    pub fn size(&self) -> usize {
        self.n
    }

    /// A row.
    pub fn row(&self, i: usize) -> &[f64] {
        &self.a[i * self.n..(i + 1) * self.n]
    }

    /// A row to write into.
    pub fn row_mut(&mut self, i: usize) -> &mut [f64] {
        &mut self.a[i * self.n..(i + 1) * self.n]
    }

    /// An entry.
    pub fn at(&self, i: usize, j: usize) -> f64 {
        self.a[i * self.n + j]
    }
}

/// Sum of products, in four interleaved partial sums.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (x, y) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest: f64 = x.remainder().iter().zip(y.remainder()).map(|(p, q)| p * q).sum();
    let mut s = [0.0f64; 4];
    for (p, q) in x.zip(y) {
        s[0] += p[0] * q[0];
        s[1] += p[1] * q[1];
        s[2] += p[2] * q[2];
        s[3] += p[3] * q[3];
    }
    (s[0] + s[1]) + (s[2] + s[3]) + rest
}

/// The lower factor L of N = L Lᵀ, and the unknowns that N does not determine.
#[derive(Clone, Debug)]
pub struct Factor {
    l: Matrix,
    /// Whether an unknown is free: it is held where it is.
    pub free: Vec<bool>,
    /// For each free unknown the motion of all unknowns that changes no reading; largest entry 1.
    pub motions: Vec<Vec<f64>>,
}

impl Factor {
    /// Factors a positive semidefinite matrix, of which the lower half is read.
    pub fn new(normal: &Matrix) -> Factor {
        let n = normal.size();
        let mut l = Matrix::zero(n);
        let (mut free, mut motions) = (vec![false; n], Vec::new());
        for i in 0..n {
            let (done, rest) = l.a.split_at_mut(i * n);
            let row = &mut rest[..n];
            for j in 0..i {
                let other = &done[j * n..j * n + n];
                row[j] =
                    if free[j] { 0.0 } else { (normal.at(i, j) - dot(&row[..j], &other[..j])) / other[j] };
            }
            let pivot = normal.at(i, i) - dot(&row[..i], &row[..i]);
            if pivot > FREE * normal.at(i, i) && pivot > f64::MIN_POSITIVE {
                row[i] = pivot.sqrt();
                continue;
            }
            free[i] = true;
            // what the unknowns before it do when it moves by one: Lᵀ x = -y
            let mut motion = vec![0.0; n];
            motion[i] = 1.0;
            for k in (0..i).rev() {
                if free[k] {
                    continue;
                }
                let mut sum = -row[k];
                for m in k + 1..i {
                    sum -= done[m * n + k] * motion[m];
                }
                motion[k] = sum / done[k * n + k];
            }
            let most = motion.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            motion.iter_mut().for_each(|v| *v /= most);
            motions.push(motion);
            row[..i].fill(0.0);
            row[i] = 1.0;
        }
        Factor { l, free, motions }
    }

    /// The solution of N x = b; free unknowns stay 0.
    pub fn solve(&self, b: &[f64]) -> Vec<f64> {
        let n = self.l.size();
        let mut x = b.to_vec();
        for i in 0..n {
            x[i] =
                if self.free[i] { 0.0 } else { (x[i] - dot(&self.l.row(i)[..i], &x[..i])) / self.l.at(i, i) };
        }
        for i in (0..n).rev() {
            if self.free[i] {
                continue;
            }
            x[i] /= self.l.at(i, i);
            let (row, v) = (self.l.row(i), x[i]);
            for j in 0..i {
                x[j] -= row[j] * v;
            }
        }
        (0..n).filter(|i| self.free[*i]).for_each(|i| x[i] = 0.0);
        x
    }

    /// The inverse of N with the free unknowns held: the covariance for unit weight.
    pub fn inverse(&self) -> Matrix {
        let n = self.l.size();
        let mut m = Matrix::zero(n);
        for i in 0..n {
            if self.free[i] {
                continue;
            }
            let (done, rest) = m.a.split_at_mut(i * n);
            let (row, l) = (&mut rest[..n], self.l.row(i));
            let scale = 1.0 / l[i];
            for k in 0..i {
                let factor = -l[k] * scale;
                if factor != 0.0 {
                    add(&mut row[..=k], &done[k * n..k * n + k + 1], factor);
                }
            }
            row[i] = scale;
        }
        let mut q = Matrix::zero(n);
        for k in 0..n {
            let row = m.row(k);
            for i in 0..=k {
                if row[i] != 0.0 {
                    add(&mut q.a[i * n..i * n + i + 1], &row[..=i], row[i]);
                }
            }
        }
        for i in 0..n {
            for j in 0..i {
                q.a[j * n + i] = q.a[i * n + j];
            }
        }
        q
    }
}

/// `to += factor * from`.
fn add(to: &mut [f64], from: &[f64], factor: f64) {
    to.iter_mut().zip(from).for_each(|(t, f)| *t += factor * f);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn matrix(rows: &[&[f64]]) -> Matrix {
        Matrix { n: rows.len(), a: rows.concat() }
    }

    #[test]
    fn a_known_matrix_is_solved_and_inverted() {
        // N = L Lᵀ with L = [2 0; 1 3]
        let f = Factor::new(&matrix(&[&[4.0, 2.0], &[2.0, 10.0]]));
        let x = f.solve(&[8.0, 22.0]);
        assert!((x[0] - 1.0).abs() < 1e-15 && (x[1] - 2.0).abs() < 1e-15, "{x:?}");
        let q = f.inverse();
        for (got, want) in [q.at(0, 0), q.at(0, 1), q.at(1, 1)].iter().zip([10.0, -2.0, 4.0]) {
            assert!((got * 36.0 - want).abs() < 1e-14);
        }
    }

    #[test]
    fn what_moves_together_is_told() {
        // only the difference of the first two is known, and the third
        let f = Factor::new(&matrix(&[&[1.0, -1.0, 0.0], &[-1.0, 1.0, 0.0], &[0.0, 0.0, 4.0]]));
        assert_eq!(f.free, [false, true, false]);
        assert_eq!(f.motions, [[1.0, 1.0, 0.0]]);
        assert_eq!(f.solve(&[1.0, -1.0, 8.0]), [1.0, 0.0, 2.0]);
    }
}
