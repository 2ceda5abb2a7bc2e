/* The loop of models/ride/kernel.py in C, for the comparison of speed. */
#include <math.h>
#include <stdint.h>
#include <string.h>

enum { ROW = 16, TYRE = 8 };

typedef struct {
    int64_t dof, elements, links, samples, substeps;
    double step;
    const double *reading, *answer, *gravity, *law, *table, *tyre, *link_scale, *link_cubic;
    const int32_t *start, *link_start;
    const uint64_t *link_coordinate, *link_element;
    double *incidence, *offset; /* scratch: linkages are written into them */
    const double *road, *first;
    double *q, *v, *work;
} Car;

static inline double clipped(double place, double top) {
    double above = place > 0.0 ? place : 0.0;
    return above < top ? above : top;
}

static inline double positive(double number) { return number > 0.0 ? number : 0.0; }

int64_t integrate(const Car *car) {
    const int64_t dof = car->dof, elements = car->elements, samples = car->samples;
    const double *restrict law = car->law, *restrict table = car->table, *restrict tyre = car->tyre;
    const double *restrict reading = car->reading, *restrict answer = car->answer;
    const double *restrict road = car->road, *restrict cubic = car->link_cubic, *restrict gravity = car->gravity;
    const int32_t *restrict spring_start = car->start, *restrict damper_start = car->start + elements;
    double *restrict by = car->incidence, *restrict offset = car->offset;
    double *restrict out_q = car->q, *restrict out_v = car->v, *restrict work = car->work;
    double q[ROW] = {0}, v[ROW] = {0}, qs[ROW] = {0}, vs[ROW] = {0}, qn[ROW], vn[ROW], a[ROW];
    double x[ROW], r[ROW];
    double from_road = 0, lost = 0;
    const double h = car->step / car->substeps;
    for (int64_t j = 0; j < dof; j++) {
        q[j] = car->first[j];
        v[j] = car->first[ROW + j];
    }
    for (int64_t k = 0; k < samples; k++) {
        double size = 0;
        for (int64_t j = 0; j < dof; j++) {
            out_q[k * dof + j] = q[j];
            out_v[k * dof + j] = v[j];
            size += fabs(q[j]) + fabs(v[j]);
        }
        work[3 * k] = from_road;
        work[3 * k + 1] = 0;
        work[3 * k + 2] = lost;
        if (!(size < 1e300)) return k;
        if (k + 1 == samples) break;
        const double *now = road + 4 * k, *then = road + 4 * (k + 1);
        for (int64_t substep = 0; substep < car->substeps; substep++) {
            memcpy(qs, q, sizeof q);
            memcpy(vs, v, sizeof v);
            memcpy(qn, q, sizeof q);
            memcpy(vn, v, sizeof v);
            for (int stage = 0; stage < 4; stage++) {
                const double part = (substep + 0.5 * ((stage + 1) / 2)) / car->substeps;
                for (int c = 0; c < ROW; c++) x[c] = r[c] = 0;
                for (int64_t j = 0; j < dof; j++)
                    for (int c = 0; c < ROW; c++) {
                        x[c] += reading[j * ROW + c] * qs[j];
                        r[c] += reading[j * ROW + c] * vs[j];
                    }
                for (int64_t l = 0; l < car->links; l++) {
                    const uint64_t d = car->link_coordinate[l], e = car->link_element[l];
                    const double scale = car->link_scale[l], last = car->link_scale[2 * car->links + l];
                    const double u = scale * x[d] + car->link_scale[car->links + l];
                    const double on = clipped(u, last + 1);
                    const int32_t cell = (int32_t)clipped(on, last);
                    const double in = on - cell, *c = cubic + 4 * (cell + car->link_start[l]);
                    const double slope = c[1] + in * (2 * c[2] + 3 * in * c[3]);
                    const double g = c[0] + in * (c[1] + in * (c[2] + in * c[3])) + slope * (u - on);
                    by[d * elements + e] = slope * scale;
                    offset[e] = g - slope * scale * x[d];
                }
                double f0 = 0, f1 = 0, f2 = 0, f3 = 0, f4 = 0, f5 = 0, losing = 0;
                for (int64_t e = 0; e < elements; e++) {
                    const double b0 = by[e], b1 = by[elements + e], b2 = by[2 * elements + e];
                    const double b3 = by[3 * elements + e], b4 = by[4 * elements + e], b5 = by[5 * elements + e];
                    const double deflection = offset[e] + b0 * x[0] + b1 * x[1] + b2 * x[2] + b3 * x[3]
                                              + b4 * x[4] + b5 * x[5];
                    const double rate = b0 * r[0] + b1 * r[1] + b2 * r[2] + b3 * r[3] + b4 * r[4] + b5 * r[5];
#define LAW(row) law[(row) * elements + e]
                    double u = LAW(0) * deflection + LAW(1);
                    int32_t cell = (int32_t)clipped(u, LAW(2));
                    const double *at = table + cell + spring_start[e];
                    double stored = at[0] + (at[1] - at[0]) * (u - cell);
                    double past = positive(deflection - LAW(7));
                    stored += past * (LAW(8) + LAW(9) * past);
                    past = positive(LAW(10) - deflection);
                    stored -= past * (LAW(11) + LAW(12) * past);
                    u = LAW(4) * rate + LAW(5);
                    cell = (int32_t)clipped(u, LAW(6));
                    at = table + cell + damper_start[e];
                    double lossy = at[0] + (at[1] - at[0]) * (u - cell);
                    double rubbing = LAW(13) * rate;
                    const double full = LAW(14);
                    rubbing = rubbing < full ? rubbing : full;
                    lossy += rubbing > -full ? rubbing : -full;
                    losing += lossy * rate;
                    const double total = stored + lossy;
                    f0 += b0 * total;
                    f1 += b1 * total;
                    f2 += b2 * total;
                    f3 += b3 * total;
                    f4 += b4 * total;
                    f5 += b5 * total;
                }
                double lifting = 0, f[12] = {f0, f1, f2, f3, f4, f5};
                for (int i = 0; i < 4; i++) {
                    const double climb = then[i] - now[i], rising = climb / car->step;
                    const double closing = rising - r[TYRE + i];
                    const double elastic = tyre[8 + i] + tyre[i] * (now[i] + part * climb - x[TYRE + i]);
                    const double total = positive(elastic + tyre[4 + i] * closing);
                    losing += (total - positive(elastic)) * closing;
                    lifting += total * rising;
                    f[TYRE + i] = total;
                }
                for (int64_t j = 0; j < dof; j++) {
                    double sum = gravity[j];
                    sum += answer[j] * f[0] + answer[ROW + j] * f[1] + answer[2 * ROW + j] * f[2];
                    sum += answer[3 * ROW + j] * f[3] + answer[4 * ROW + j] * f[4] + answer[5 * ROW + j] * f[5];
                    sum += answer[8 * ROW + j] * f[8] + answer[9 * ROW + j] * f[9];
                    a[j] = sum + answer[10 * ROW + j] * f[10] + answer[11 * ROW + j] * f[11];
                }
                const double weight = stage == 0 || stage == 3 ? h / 6 : h / 3, on = stage == 2 ? h : h / 2;
                from_road += weight * lifting;
                lost += weight * losing;
                for (int64_t j = 0; j < dof; j++) {
                    const double velocity = vs[j];
                    qn[j] += weight * velocity;
                    vn[j] += weight * a[j];
                    qs[j] = q[j] + on * velocity;
                    vs[j] = v[j] + on * a[j];
                }
            }
            memcpy(q, qn, sizeof q);
            memcpy(v, vn, sizeof v);
        }
    }
    return -1;
}
