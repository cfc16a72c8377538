/* The moving gate in plain C, written from the same equations as the kernel, to see what its step could cost.
 *
 * Two leaves, each with rotor, train with play and limiter, ram, hinge, wind, stops, one obstacle with soft edge;
 * windings coupled by the supply, current limit, encoder, heat. Layout by structures, no flat arrays.
 */
#include <math.h>

typedef struct {
    double inertia, width, hinge_friction, hinge_viscous, tilt_along, tilt_across, rise, wind_factor, wind_along,
        wind_across, open_stop, closed_stop, stop_stiffness, stop_damping, run_sign, post_x, post_y, bracket_along,
        bracket_offset, shut_output, stiffness, damping, play, slip_limit, leak, ratio, load_friction, output_least,
        output_most, rotor, motor_constant, inductance, no_load_torque, rotor_drag, train_drag, pulses, count_gain,
        edge_stiffness, edge_travel, resistance, ohm_per_kelvin, air_c, keeps[4], warms[2], cut_out_opens_c,
        cut_out_closes_c, count_noise, ground_count, mains, whole_winding, linkage;
} Fixed;

typedef struct {
    double angle, speed, turned, turning, current, duty, effective, target, slew, limit, offset, force_out, push,
        counted, wired, count, count_time, stop_torque, ohm, heat, motor_torque, load, rubbing, brake, engaged, keyed,
        winding_c, case_c, cut_out, edge_pressed;
    double there, at_angle, at_radius, opens_into, obstacle_stiffness, obstacle_damping, at_edge, force, peak;
} Moving;

typedef struct {
    double open_circuit[2], coupling[4], transfer[2], line_load[2], loop[2], closed[2];
} Net;

#define STEP 0.001
#define TINY 1e-12
#define TWO_OVER_PI 0.6366197723675814
#define QUARTER_PI 0.7853981633974483
#define HALF_PI_HIGH 1.5707963267341256
#define HALF_PI_LOW 6.077100506506192e-11

static void sin_cos(double x, double *sine, double *cosine)
{
    double quarter, y;
    if (-QUARTER_PI < x && x < QUARTER_PI) {
        quarter = 0.0;
        y = x;
    } else if (QUARTER_PI <= x && x < 3.0 * QUARTER_PI) {
        quarter = 1.0;
        y = (x - HALF_PI_HIGH) - HALF_PI_LOW;
    } else {
        quarter = floor(x * TWO_OVER_PI + 0.5);
        y = (x - quarter * HALF_PI_HIGH) - quarter * HALF_PI_LOW;
    }
    double z = y * y, w = z * z, v = w * w;
    double s = (-1.0 / 6.0 + z * (1.0 / 120.0)) + w * (-1.0 / 5040.0 + z * (1.0 / 362880.0)) +
               v * ((-1.0 / 39916800.0 + z * (1.0 / 6227020800.0)) + w * (-1.0 / 1307674368000.0));
    double c = (-0.5 + z * (1.0 / 24.0)) + w * (-1.0 / 720.0 + z * (1.0 / 40320.0)) +
               v * ((-1.0 / 3628800.0 + z * (1.0 / 479001600.0)) +
                    w * (-1.0 / 87178291200.0 + z * (1.0 / 20922789888000.0)));
    s = y + (y * z) * s;
    c = 1.0 + z * c;
    switch ((long)quarter & 3) {
    case 0: *sine = s; *cosine = c; break;
    case 1: *sine = c; *cosine = -s; break;
    case 2: *sine = -s; *cosine = -c; break;
    default: *sine = -c; *cosine = s;
    }
}

static double rubbed(double speed, double most, double still)
{
    double slower;
    if (speed > most) slower = speed - most;
    else if (speed < -most) slower = speed + most;
    else return 0.0;
    return fabs(slower) < still ? 0.0 : slower;
}

static double pull_train(Moving *m, const Fixed *f, double dt, double sine, double cosine)
{
    double inwards = f->bracket_along * sine + f->bracket_offset * cosine;
    double outwards = f->bracket_along * cosine - f->bracket_offset * sine;
    double x = outwards - f->post_x, y = inwards - f->post_y;
    double square = x * x + y * y, length = sqrt(square);
    double there = f->run_sign * (f->shut_output - length);
    double lever = f->run_sign * (x * inwards - y * outwards) / square * length;
    double stretch = f->ratio * m->turned - m->offset - there;
    double rate = f->ratio * m->turning - lever * m->speed;
    double slack = 0.5 * f->play, force = 0.0;
    if (slack == 0.0) {
        force = f->stiffness * stretch + f->damping * rate;
    } else if (stretch > slack) {
        stretch -= slack;
        force = f->stiffness * stretch + f->damping * rate;
        if (force < 0.0) force = 0.0;
    } else if (stretch < -slack) {
        stretch += slack;
        force = f->stiffness * stretch + f->damping * rate;
        if (force > 0.0) force = 0.0;
    }
    if (f->slip_limit > 0.0) {
        double kept = f->slip_limit / f->stiffness;
        if (force > f->slip_limit) {
            force = f->slip_limit;
            if (stretch > kept) m->offset += stretch - kept;
        } else if (force < -f->slip_limit) {
            force = -f->slip_limit;
            if (stretch < -kept) m->offset += stretch + kept;
        }
    }
    if (f->leak != 0.0) m->offset += dt * f->leak * force;
    m->force_out = force;
    m->load = f->ratio * force;
    m->rubbing = f->no_load_torque + f->train_drag + f->load_friction * fabs(m->load);
    return force * lever;
}

static void bus(const Net *n, const double d[2], const double i[2], double v[2])
{
    double l0 = n->line_load[0] * d[0] * d[0], l1 = n->line_load[1] * d[1] * d[1];
    double w0 = n->transfer[0] * d[0] * i[0], w1 = n->transfer[1] * d[1] * i[1];
    double a = 1.0 + n->coupling[0] * l0, b = n->coupling[1] * l1;
    double c = n->coupling[2] * l0, d1 = 1.0 + n->coupling[3] * l1;
    double v0 = n->open_circuit[0] - n->coupling[0] * w0 - n->coupling[1] * w1;
    double v1 = n->open_circuit[1] - n->coupling[2] * w0 - n->coupling[3] * w1;
    double det = a * d1 - b * c;
    v[0] = (v0 * d1 - b * v1) / det;
    v[1] = (a * v1 - c * v0) / det;
}

static double half_way(const Moving *m, const Fixed *f, double dt, double *more)
{
    *more = 0.0;
    if (m->turning == 0.0) return 0.0;
    double kick = 0.5 * dt / f->rotor;
    *more = kick * f->motor_constant;
    return m->turning - kick * (m->load + (m->turning > 0.0 ? m->rubbing : -m->rubbing));
}

static int is_switched(const Moving *m, const Fixed *f, const Net *n, int leaf)
{
    return (m->duty != 0.0 || m->brake != 0.0) && n->closed[leaf] != 0.0 && f->whole_winding != 0.0 &&
           f->mains == 0.0 && m->cut_out == 0.0;
}

static void currents(const Moving m[2], const Fixed f[2], const Net *n, double dt, const double d[2], double out[2])
{
    double l0 = n->line_load[0] * d[0] * d[0], l1 = n->line_load[1] * d[1] * d[1];
    double w0 = n->open_circuit[0], w1 = n->open_circuit[1];
    double y00 = n->coupling[0], y01 = n->coupling[1], y10 = n->coupling[2], y11 = n->coupling[3];
    if (l0 != 0.0 || l1 != 0.0) {
        double a = 1.0 + y00 * l0, b = y01 * l1, c = y10 * l0, e = 1.0 + y11 * l1, det = a * e - b * c, old;
        old = w0; w0 = (w0 * e - b * w1) / det; w1 = (a * w1 - c * old) / det;
        old = y00; y00 = (y00 * e - b * y10) / det; y10 = (a * y10 - c * old) / det;
        old = y01; y01 = (y01 * e - b * y11) / det; y11 = (a * y11 - c * old) / det;
    }
    double a0 = n->transfer[0] * d[0], a1 = n->transfer[1] * d[1];
    double x00 = 1.0, x01 = 0.0, r0 = 0.0, x10 = 0.0, x11 = 1.0, r1 = 0.0;
    if (is_switched(&m[0], &f[0], n, 0)) {
        double more, speed = half_way(&m[0], &f[0], dt, &more), slope = f[0].inductance / dt;
        x00 = slope + m[0].ohm + n->loop[0] + a0 * y00 * a0 + f[0].motor_constant * more;
        x01 = a0 * y01 * a1;
        r0 = slope * m[0].current + a0 * w0 - f[0].motor_constant * speed;
    }
    if (is_switched(&m[1], &f[1], n, 1)) {
        double more, speed = half_way(&m[1], &f[1], dt, &more), slope = f[1].inductance / dt;
        x10 = a1 * y10 * a0;
        x11 = slope + m[1].ohm + n->loop[1] + a1 * y11 * a1 + f[1].motor_constant * more;
        r1 = slope * m[1].current + a1 * w1 - f[1].motor_constant * speed;
    }
    double part = 1.0 / (x00 * x11 - x01 * x10);
    out[0] = (r0 * x11 - x01 * r1) * part;
    out[1] = (x00 * r1 - x10 * r0) * part;
}

static double clamped(double i, double limit) { return i > limit ? limit : i < -limit ? -limit : i; }

static double throttled(const Moving *m, const Fixed *f, const Net *n, double dt, int leaf, double volts, double i)
{
    double lever = n->transfer[leaf] * volts;
    if (lever == 0.0) return m->duty;
    double more, speed = half_way(m, f, dt, &more);
    double needed = ((m->ohm + n->loop[leaf]) * i + f->motor_constant * (speed + more * i) +
                     f->inductance * (i - m->current) / dt) / lever;
    if (m->duty > 0.0) return needed < 0.0 ? 0.0 : needed > m->duty ? m->duty : needed;
    return needed > 0.0 ? 0.0 : needed < m->duty ? m->duty : needed;
}

static void wind_on(Moving m[2], const Fixed f[2], const Net *n, double dt)
{
    double d[2] = {m[0].duty, m[1].duty}, i[2], v[2];
    currents(m, f, n, dt, d, i);
    int over0 = d[0] != 0.0 && fabs(i[0]) > m[0].limit, over1 = d[1] != 0.0 && fabs(i[1]) > m[1].limit;
    if (over0 || over1) {
        for (int again = 0; again < 3; again++) {
            if (over0) i[0] = clamped(i[0], m[0].limit);
            if (over1) i[1] = clamped(i[1], m[1].limit);
            bus(n, d, i, v);
            if (over0) d[0] = throttled(&m[0], &f[0], n, dt, 0, v[0], i[0]);
            if (over1) d[1] = throttled(&m[1], &f[1], n, dt, 1, v[1], i[1]);
            currents(m, f, n, dt, d, i);
        }
        if (over0 && d[0] != 0.0) i[0] = clamped(i[0], m[0].limit);
        if (over1 && d[1] != 0.0) i[1] = clamped(i[1], m[1].limit);
    }
    for (int leaf = 0; leaf < 2; leaf++) {
        m[leaf].effective = d[leaf];
        m[leaf].current = fabs(i[leaf]) < TINY ? 0.0 : i[leaf];
        m[leaf].motor_torque = f[leaf].motor_constant * m[leaf].current;
    }
}

static void turn_rotor(Moving *m, const Fixed *f, double dt)
{
    double kick = dt / f->rotor, ease = 1.0 / (1.0 + kick * f->rotor_drag);
    double speed = rubbed((m->turning + kick * (m->motor_torque - m->load)) * ease, kick * m->rubbing, 1e-6);
    if (speed != 0.0) {
        double there = f->ratio * (m->turned + dt * speed) - m->offset;
        if (there < f->output_least && speed < 0.0) speed = 0.0;
        if (there > f->output_most && speed > 0.0) speed = 0.0;
    }
    m->turning = speed;
    m->turned += dt * speed;
    m->counted += dt * speed * m->wired * f->count_gain;
}

static double press_stops(Moving *m, const Fixed *f, double speed, double dt)
{
    double sign = 1.0, depth = m->angle - f->open_stop;
    m->stop_torque = 0.0;
    if (depth <= 0.0) {
        sign = -1.0;
        depth = f->closed_stop - m->angle;
        if (depth <= 0.0) return speed;
    }
    double torque = (f->stop_stiffness * depth + f->stop_damping * sign * speed) /
                    (1.0 + dt * f->stop_damping / f->inertia);
    if (torque <= 0.0) return speed;
    m->stop_torque = -sign * torque;
    return speed - sign * dt * torque / f->inertia;
}

static double press_obstacle(Moving *m, const Fixed *f, double speed, double dt)
{
    double sign = m->opens_into != 0.0 ? 1.0 : -1.0;
    double depth = sign * m->at_radius * (m->angle - m->at_angle), force = 0.0;
    if (depth > 0.0) {
        double spring = m->obstacle_stiffness * depth, damping = m->obstacle_damping;
        if (m->at_edge != 0.0 && f->edge_stiffness > 0.0) {
            double series = m->obstacle_stiffness * f->edge_stiffness / (m->obstacle_stiffness + f->edge_stiffness);
            double bottom = f->edge_stiffness * f->edge_travel, softer = series * depth;
            if (softer > bottom) softer = bottom + m->obstacle_stiffness * (depth - bottom / series);
            damping = damping * softer / spring;
            spring = softer;
        }
        force = (spring + damping * sign * m->at_radius * speed) /
                (1.0 + dt * damping * m->at_radius * m->at_radius / f->inertia);
        if (force < 0.0) force = 0.0;
        speed -= sign * dt * force * m->at_radius / f->inertia;
    }
    m->force = force;
    if (force > m->peak) m->peak = force;
    return speed;
}

static void swing_leaf(Moving *m, const Fixed *f, double dt, double sine, double cosine, double torque)
{
    double normal = f->wind_across * cosine - f->wind_along * sine;
    double hung = m->push - f->rise;
    hung = hung + (f->tilt_across * cosine - f->tilt_along * sine);
    hung = hung + f->wind_factor * normal * fabs(normal);
    torque = hung + torque;
    double kick = dt / f->inertia, ease = 1.0 / (1.0 + kick * f->hinge_viscous);
    double speed = (m->speed + kick * torque) * ease;
    speed = press_stops(m, f, speed, dt);
    if (m->there != 0.0) speed = press_obstacle(m, f, speed, dt);
    speed = rubbed(speed, kick * f->hinge_friction, 1e-9);
    m->speed = speed;
    m->angle += dt * speed;
}

static double slew(Moving *m)
{
    double before = m->duty;
    if (m->duty != m->target) {
        double most = m->slew * STEP;
        if (m->duty < m->target) m->duty = m->target - m->duty <= most ? m->target : m->duty + most;
        else m->duty = m->duty - m->target <= most ? m->target : m->duty - most;
    }
    return before;
}

static void warm(Moving *m, const Fixed *f)
{
    double winding = m->winding_c - f->air_c, case_ = m->case_c - f->air_c;
    m->winding_c = f->air_c + f->keeps[0] * winding + f->keeps[1] * case_ + f->warms[0] * m->heat;
    m->case_c = f->air_c + f->keeps[2] * winding + f->keeps[3] * case_ + f->warms[1] * m->heat;
    m->heat = 0.0;
    m->ohm = f->resistance * (1.0 + f->ohm_per_kelvin * (m->winding_c - 20.0));
    if (m->cut_out == 0.0 && m->winding_c >= f->cut_out_opens_c) m->cut_out = 1.0;
    else if (m->cut_out != 0.0 && m->winding_c <= f->cut_out_closes_c) m->cut_out = 0.0;
}

static int is_near(const Moving *m, const Fixed *f)
{
    double speed = fabs(m->speed), reach = 2.0 * STEP * speed + 1e-4;
    if (speed == 0.0) return 0;
    if (f->stop_stiffness * STEP * STEP > 0.05 * 0.05 * f->inertia &&
        (m->angle + reach > f->open_stop || m->angle - reach < f->closed_stop)) return 1;
    return m->there != 0.0 && (m->opens_into != 0.0 ? 1.0 : -1.0) * (m->angle - m->at_angle) + reach > 0.0;
}

/* Advance by whole milliseconds; the strip between the leaves is out of reach in every case that is compared. */
void gate_run(Moving m[2], const Fixed f[2], const Net *n, long steps, long *time)
{
    for (long step = 0; step < steps; step++) {
        double from0 = slew(&m[0]), from1 = slew(&m[1]), to0 = m[0].duty, to1 = m[1].duty;
        int parts = is_near(&m[0], &f[0]) || is_near(&m[1], &f[1]) ? 4 : 1;
        double dt = STEP / parts;
        for (int part = 0; part < parts; part++) {
            if (from0 != to0 || from1 != to1) {
                m[0].duty = from0 + (to0 - from0) * (part + 0.5) / parts;
                m[1].duty = from1 + (to1 - from1) * (part + 0.5) / parts;
            }
            double s0, c0, s1, c1;
            sin_cos(m[0].angle, &s0, &c0);
            sin_cos(m[1].angle, &s1, &c1);
            double t0 = pull_train(&m[0], &f[0], dt, s0, c0), t1 = pull_train(&m[1], &f[1], dt, s1, c1);
            wind_on(m, f, n, dt);
            turn_rotor(&m[0], &f[0], dt);
            turn_rotor(&m[1], &f[1], dt);
            swing_leaf(&m[0], &f[0], dt, s0, c0, t0);
            swing_leaf(&m[1], &f[1], dt, s1, c1, t1);
        }
        m[0].duty = to0;
        m[1].duty = to1;
        *time += 1000;
        for (int leaf = 0; leaf < 2; leaf++) {
            double count = floor(m[leaf].counted * f[leaf].pulses + 0.5);
            if (count != m[leaf].count) {
                m[leaf].count = count;
                m[leaf].count_time = (double)*time;
            }
            m[leaf].heat += m[leaf].current * m[leaf].current * m[leaf].ohm * STEP;
            if (*time % 1000000 == 0) warm(&m[leaf], &f[leaf]);
        }
    }
}
