"""Paths of a PDF page as pypdf reads them, in mm from the lower left corner."""
from pypdf.generic import ContentStream

MM = 25.4 / 72


def times(m, n):
    """Row-vector product m then n of PDF matrices [a b c d e f]."""
    a, b, c, d, e, f = m
    g, h, i, j, k, l = n
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + l)


def apply(m, x, y):
    a, b, c, d, e, f = m
    return ((a * x + c * y + e) * MM, (b * x + d * y + f) * MM)


def subpaths(stream, resources, reader, matrix, out):
    """All painted subpaths as lists of ('m'|'l'|'c', points...)."""
    stack, current, here = [], [], []
    for operands, operator in ContentStream(stream, reader).operations:
        op = operator.decode()
        n = [float(v) for v in operands] if op in ("cm", "m", "l", "c", "re") else operands
        if op == "q":
            stack.append(matrix)
        elif op == "Q":
            matrix = stack.pop()
        elif op == "cm":
            matrix = times(n, matrix)
        elif op == "m":
            here = [("m", apply(matrix, *n))]
            current.append(here)
        elif op == "l":
            here.append(("l", apply(matrix, *n)))
        elif op == "c":
            here.append(("c", apply(matrix, n[0], n[1]), apply(matrix, n[2], n[3]), apply(matrix, n[4], n[5])))
        elif op == "re":
            x, y, w, h = n
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]
            here = [("m" if k == 0 else "l", apply(matrix, *p)) for k, p in enumerate(corners)]
            here.append(("h",))
            current.append(here)
        elif op == "h":
            here.append(("h",))
        elif op in ("S", "s", "f", "F", "f*", "B", "B*", "b", "b*"):
            out += current
            current = []
        elif op == "n":
            current = []
        elif op == "Do":
            form = resources["/XObject"][operands[0]].get_object()
            own = tuple(float(v) for v in form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
            subpaths(form, form["/Resources"], reader, times(own, matrix), out)
        elif op in ("v", "y"):
            raise ValueError(f"operator {op}")


def points(sub):
    """Ends and points along the curves of a subpath."""
    out, at = [], None
    for kind, *p in sub:
        if kind in "ml":
            at = p[0]
            out.append(at)
        elif kind == "c":
            for k in range(1, 17):
                t, u = k / 16, 1 - k / 16
                w = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
                q = (at, *p)
                out.append(tuple(sum(w[j] * q[j][axis] for j in range(4)) for axis in (0, 1)))
            at = p[2]
    return out


def box(list_of_points):
    xs, ys = [p[0] for p in list_of_points], [p[1] for p in list_of_points]
    return (min(xs), min(ys), max(xs), max(ys))
