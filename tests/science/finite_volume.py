"""
A second, independent model of the jar: finite volumes, Crank and Nicolson, SciPy.

Cells round the axis, fluxes through their faces, so that heat is conserved whatever the
mesh. Second order in space and time; it shares nothing with the sum of modes.
"""

import numpy as np
from scipy.sparse import csc_matrix, diags, identity
from scipy.sparse.linalg import splu


class Mesh:
    """Heat balance ``dT/dt = matrix T + gain medium`` of a cylinder's cells."""

    def __init__(self, jar, cells_r, cells_z):
        self.nr, self.nz = cells_r, cells_z
        self.dr, self.dz = jar.radius_m / cells_r, jar.height_m / cells_z
        conductivity = jar.conductivity_w_per_m_k
        capacity = conductivity / jar.diffusivity_m2_s
        edges = np.arange(cells_r + 1) * self.dr
        ring = np.pi * np.diff(edges**2)
        self.volume = np.repeat(ring[:, None] * self.dz, cells_z, axis=1).ravel()
        number = np.arange(cells_r * cells_z).reshape(cells_r, cells_z)
        rows, columns, values = [], [], []
        gain = np.zeros(number.size)

        def link(one, other, conductance):
            for a, b in ((one, other), (other, one)):
                rows.extend([a, a])
                columns.extend([a, b])
                values.extend([-conductance, conductance])

        for i in range(cells_r):
            for j in range(cells_z):
                if i + 1 < cells_r:
                    area = 2 * np.pi * edges[i + 1] * self.dz
                    link(number[i, j], number[i + 1, j], conductivity * area / self.dr)
                if j + 1 < cells_z:
                    link(
                        number[i, j], number[i, j + 1], conductivity * ring[i] / self.dz
                    )

        def wall(cells, area, film, half):
            through = area / (1.0 / film + half / conductivity)
            np.add.at(gain, cells, through)

        wall(
            number[-1],
            2 * np.pi * jar.radius_m * self.dz,
            jar.side_w_m2_k,
            self.dr / 2,
        )
        wall(number[:, 0], ring, jar.bottom_w_m2_k, self.dz / 2)
        wall(number[:, -1], ring, jar.top_w_m2_k, self.dz / 2)
        shape = (number.size, number.size)
        matrix = csc_matrix((values, (rows, columns)), shape=shape) - diags(gain)
        held = capacity * self.volume
        self.matrix = diags(1.0 / held) @ matrix
        self.gain = gain / held
        self.held = held

    def centre(self, field, z_share):
        """Temperature on the axis, by a parabola in r and a cubic in z."""
        grid = field.reshape(self.nr, self.nz)
        axis = (9.0 * grid[0] - grid[1]) / 8.0
        place = z_share * self.nz - 0.5
        first = int(np.clip(round(place) - 2, 0, self.nz - 4))
        near = np.arange(first, first + 4)
        return float(np.polyval(np.polyfit(near - place, axis[near], 3), 0.0))


def finite_volume_k(
    jar, time_s, medium_k, start_k, step_s, *, cells=(30, 45), z_share=0.5
):
    """Temperature at the point, one value a step; corners must fall on steps."""
    mesh = Mesh(jar, *cells)
    unit = identity(mesh.volume.size, format="csc")
    forward = (unit + 0.5 * step_s * mesh.matrix).tocsr()
    solver = splu((unit - 0.5 * step_s * mesh.matrix).tocsc())
    steps = round((time_s[-1] - time_s[0]) / step_s)
    grid = time_s[0] + step_s * np.arange(steps + 1)
    medium = np.interp(grid, time_s, medium_k)
    field = np.full(mesh.volume.size, start_k)
    told = [start_k]
    for i in range(steps):
        pushed = 0.5 * step_s * mesh.gain * (medium[i] + medium[i + 1])
        field = solver.solve(forward @ field + pushed)
        told.append(mesh.centre(field, z_share))
    return grid, np.array(told)
