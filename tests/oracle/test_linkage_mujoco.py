"""Chains of rockers and links against MuJoCo, which has hinges, tendons between sites and nothing of ours."""

from __future__ import annotations

import mujoco
import numpy as np
import pytest

from models.linkage import LINKAGES, Chain, travel_table
from tests.manual import near


def hinged(chain: Chain) -> mujoco.MjModel:
    """Each body on its hinge, a site at each joint, a tendon along each link."""
    bodies, links, given = "", "", chain.bodies()
    for number, body in enumerate(given):
        at, axis, *joints = (part[:, 0] for part in (body.at, body.axis, body.inlet, body.outlet))
        sites = "".join(
            f'<site name="{name}{number}" pos="{text(joint - at)}"/>'
            for name, joint in zip(("in", "out"), joints, strict=True)
        )
        bodies += (
            f'<body pos="{text(at)}"><joint type="hinge" axis="{text(axis)}"/>'
            f'<inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>{sites}</body>'
        )
    for number in range(len(given) - 1):
        links += f'<spatial><site site="out{number}"/><site site="in{number + 1}"/></spatial>'
    return mujoco.MjModel.from_xml_string(
        f"<mujoco><worldbody>{bodies}</worldbody>{f'<tendon>{links}</tendon>' if links else ''}</mujoco>"
    )


def text(vector: np.ndarray) -> str:
    return " ".join(f"{part:.17g}" for part in vector)


@pytest.mark.parametrize("kind", LINKAGES)
def test_places_and_balance_of_forces(kind: type[Chain]) -> None:
    """At our angles the links have their lengths and the wheel its height; at our forces no hinge turns.

    A link in compression f pushes its ends apart, so its moments are f dL/dangle; the wheel is pushed up
    with g' times the torque, which acts on the last hinge.  Rounding only: of lengths of 1 m and of moments
    of 1 N·m per N·m.
    """
    chain = kind()
    table = travel_table(chain)
    model = hinged(chain)
    data = mujoco.MjData(model)
    height = None
    for point in (128, 0, 40, 200, 256):  # design trim first
        data.qpos[:] = table.body_angle[:, point]
        mujoco.mj_forward(model, data)
        wheel = data.site("in0").xpos[2]
        height = wheel if height is None else height
        near("travel, m", wheel - height, table.travel[point], within=1e-14)
        if model.ntendon:
            near("lengths of the links, m", data.ten_length, table.link_length, within=1e-14)
        rise = np.zeros((3, model.nv))
        mujoco.mj_jacSite(model, data, rise, None, model.site("in0").id)
        tendons = np.zeros((model.ntendon, model.nv))
        if model.ntendon:
            mujoco.mju_sparse2dense(
                tendons, data.ten_J, model.ten_J_rownnz, model.ten_J_rowadr, model.ten_J_colind
            )
        moments = rise[2] * table.ratio[point] + tendons.T @ table.link_force[:, point]
        sense = np.sign(table.body_angle[-1, -1])
        moments[-1] -= sense  # the bar resists the way that jounce turns it
        near("moments left, N·m per N·m", moments, 0.0, within=1e-12)
