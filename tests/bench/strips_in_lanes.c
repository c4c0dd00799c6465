/* The strip loads and separation of sim/core/loads with eight draws side by side.

   The same formulas as `_block_air`, `_look_up`, `_block_forces` and `_block_separation`; one lane is
   one draw instead of one strip. Layout: quantity q of strip i of draw d stands at
   lanes[(i * STRIDE + q) * DRAWS + d]; the places K_..., the columns A_... and the rest come from
   bench_lanes.py as macros, so that there is one list of them. What no draw changes stands once a
   strip in fixed[i * STRIDE + q]. SI units. */

#include <math.h>

#define FIXED(name) fixed[name]
#define LANE(name) lane[(name) * DRAWS + d]
#define AIR(name) air[(name) * DRAWS + d]
#define ROW(name) lane[(K_ROW + (name)) * DRAWS + d]
#define LESS(a, b) ((a) < (b) ? (a) : (b))
#define MORE(a, b) ((a) > (b) ? (a) : (b))
#define EACH_DRAW _Pragma("GCC ivdep") for (int d = 0; d < DRAWS; d++)

static inline void turned(double *a, double *b, double angle)
{
    double t2 = angle * angle;
    double c = 1.0 - t2 * (0.5 - t2 * (1.0 / 24.0 - t2 / 720.0));
    double s = angle * (1.0 - t2 * (1.0 / 6.0 - t2 * (1.0 / 120.0 - t2 / 5040.0)));
    double along = *a * c - *b * s;
    *b = *b * c + *a * s;
    *a = along;
}

static inline double place(double a, double b)
{
    double s = b / (fabs(a) + fabs(b) + 1e-9);
    double back = b >= 0.0 ? 2.0 - s : -2.0 - s;
    return ((a < 0.0 ? back : s) - S_FIRST) * NODES_PER_UNIT;
}

static inline void meet_air(
    double *restrict lane, const double *restrict fixed, const double *restrict air)
{
    EACH_DRAW
    {
        double u = AIR(A_U) + LANE(K_SLIPSTREAM), v = AIR(A_V), w = AIR(A_W);
        double p = AIR(A_P), q = AIR(A_Q), r = AIR(A_R);
        LANE(K_GONE) = 1.0 - LESS(1.0, MORE(0.0, LANE(K_STATE)));
        double a = u * FIXED(K_CX) + v * FIXED(K_CY) + w * FIXED(K_CZ);
        a += p * LANE(K_RCX) + q * LANE(K_RCY) + r * LANE(K_RCZ);
        double b = u * FIXED(K_NX) + v * FIXED(K_NY) + w * FIXED(K_NZ);
        b += p * LANE(K_RNX) + q * LANE(K_RNY) + r * LANE(K_RNZ);
        b += MORE(AIR(A_U), 0.0) * FIXED(K_INDUCED) * (AIR(A_MEAN) + FIXED(K_ETA) * AIR(A_SLOPE));
        a *= LANE(K_ALONG);
        b *= LANE(K_ACROSS);
        LANE(K_A0) = a;
        LANE(K_B0) = b;
        double attached = 1.0 - LANE(K_GONE);
        b = -b - AIR(A_ACROSS) * attached * FIXED(K_AHEAD);
        double turn = FIXED(K_MOVES) + attached * FIXED(K_EXTRA);
        turned(&a, &b, LANE(K_TWIST) + turn * LANE(K_DELTA));
        LANE(K_PLACE) = place(a, b);
        LANE(K_SPEED) = sqrt(a * a + b * b);
    }
}

#define FOUR 4
typedef double four __attribute__((vector_size(32), aligned(8)));

static inline four row_of(const double *table, long o, double f)
{
    four here = *(const four *)(table + o), next = *(const four *)(table + o + N_COLUMNS);
    return here + f * (next - here);
}

/* Fill the rows of four draws; each draw has tables of its own, table_size numbers apart. */
static inline void look_up(double *restrict lane, const double *restrict table, long table_size)
{
    double f[FOUR];
    long o[FOUR];
    for (int d = 0; d < FOUR; d++) {
        double spot = LANE(K_PLACE);
        int k = (int)spot;
        k = LESS(N_S - 2, MORE(0, k));
        f[d] = spot - k;
        o[d] = d * table_size + N_COLUMNS * k;
    }
    for (int c = 0; c < N_COLUMNS; c += FOUR) {
        four p = row_of(table, o[0] + c, f[0]), q = row_of(table, o[1] + c, f[1]);
        four r = row_of(table, o[2] + c, f[2]), s = row_of(table, o[3] + c, f[3]);
        four pq = __builtin_shufflevector(p, q, 0, 4, 2, 6);
        four qp = __builtin_shufflevector(p, q, 1, 5, 3, 7);
        four rs = __builtin_shufflevector(r, s, 0, 4, 2, 6);
        four sr = __builtin_shufflevector(r, s, 1, 5, 3, 7);
        double *to = lane + (K_ROW + c) * DRAWS;
        *(four *)to = __builtin_shufflevector(pq, rs, 0, 1, 4, 5);
        *(four *)(to + DRAWS) = __builtin_shufflevector(qp, sr, 0, 1, 4, 5);
        *(four *)(to + 2 * DRAWS) = __builtin_shufflevector(pq, rs, 2, 3, 6, 7);
        *(four *)(to + 3 * DRAWS) = __builtin_shufflevector(qp, sr, 2, 3, 6, 7);
    }
}

static inline void add_forces(
    const double *restrict lane, const double *restrict fixed, double *restrict total,
    double *restrict sums)
{
    EACH_DRAW
    {
        double speed = LANE(K_SPEED), delta = LANE(K_DELTA), gone = LANE(K_GONE);
        double attached = 1.0 - gone;
        double root = 0.5 * (1.0 + sqrt(attached));
        double excess = (root * root - 0.25) * (1.0 / 0.75) - ROW(G0);
        double along = 1.0 - fabs(S_FIRST + LANE(K_PLACE) * (1.0 / NODES_PER_UNIT));
        double late = gone * delta * along * fabs(along);
        double cn = ROW(CN) + excess * ROW(DCN) + late * FIXED(K_LATE_CN);
        double cc = ROW(CC) + excess * ROW(DCC);
        double cm = ROW(CM) + excess * ROW(DCM);
        cm += attached * FIXED(K_DCM) * delta + late * FIXED(K_LATE_CM);
        double loading = cn * FIXED(K_AREA);
        double circulating = attached * loading * speed;
        double let_go = gone * loading * MORE(0.0, LANE(K_A0));
        sums[0 * DRAWS + d] += circulating;
        sums[1 * DRAWS + d] += circulating * FIXED(K_ETA);
        sums[2 * DRAWS + d] += let_go;
        sums[3 * DRAWS + d] += let_go * FIXED(K_ETA);
        double push = speed * speed * LANE(K_FORCE);
        double turn = (FIXED(K_FRAC) + attached * FIXED(K_TILT)) * delta;
        double back = gone * FIXED(K_FRAC_X) * delta * cn * push;
        turned(&cc, &cn, turn);
        cc *= push;
        cn *= push;
        double pitch = push * cm;
        total[0 * DRAWS + d] += cc * FIXED(K_CX) + cn * FIXED(K_NX) - back;
        total[1 * DRAWS + d] += cc * FIXED(K_CY) + cn * FIXED(K_NY);
        total[2 * DRAWS + d] += cc * FIXED(K_CZ) + cn * FIXED(K_NZ);
        total[3 * DRAWS + d] += cc * LANE(K_RCX) + cn * LANE(K_RNX) + pitch * FIXED(K_PX);
        total[4 * DRAWS + d] +=
            cc * LANE(K_RCY) + cn * LANE(K_RNY) + pitch * FIXED(K_PY) - back * LANE(K_Z);
        total[5 * DRAWS + d] +=
            cc * LANE(K_RCZ) + cn * LANE(K_RNZ) + pitch * FIXED(K_PZ) + back * LANE(K_Y);
    }
}

static inline void separate(
    double *restrict lane, const double *restrict fixed, const double *restrict air)
{
    EACH_DRAW
    {
        double du = AIR(A_DU), dv = AIR(A_DV), dw = AIR(A_DW);
        double dp = AIR(A_DP), dq = AIR(A_DQ), dr = AIR(A_DR);
        double da = du * FIXED(K_CX) + dv * FIXED(K_CY) + dw * FIXED(K_CZ);
        da += dp * LANE(K_RCX) + dq * LANE(K_RCY) + dr * LANE(K_RCZ);
        double db = du * FIXED(K_NX) + dv * FIXED(K_NY) + dw * FIXED(K_NZ);
        db += dp * LANE(K_RNX) + dq * LANE(K_RNY) + dr * LANE(K_RNZ);
        db += MORE(AIR(A_U), 0.0) * FIXED(K_INDUCED) * (AIR(A_DMEAN) + FIXED(K_ETA) * AIR(A_DSLOPE));
        da *= LANE(K_ALONG);
        db *= LANE(K_ACROSS);
        double speed = MORE(LANE(K_SPEED), SLOWEST), slow = 1.0 / speed;
        double a = LANE(K_A0), b = -LANE(K_B0);
        double lag = LANE(K_DELAY) * (-b * da - a * db) * (slow * slow * slow);
        lag = LESS(AIR(A_MOST_LAG), MORE(-AIR(A_MOST_LAG), lag));
        double attached = 1.0 - LANE(K_GONE);
        double stall = FIXED(K_FLAP_STALL) + attached * attached * FIXED(K_FLAP_FELT);
        double move = LANE(K_TWIST) + stall * LANE(K_DELTA);
        double met = b + a * move;
        double help = AIR(A_HELPED) * LANE(K_HELP) + AIR(A_RIGHT) * LANE(K_HELP_SIDE);
        double shift = MORE(AIR(A_SIDESLIP) * LANE(K_SIDESLIP_STALL) - help, -fabs(met) * slow);
        move += (met >= 0.0 ? shift : -shift) - lag;
        turned(&a, &b, LESS(MOST_TURN, MORE(-MOST_TURN, move)));
        LANE(K_ANSWERED) = place(a, b);
        LANE(K_RATE) = LESS(AIR(A_BOUND), speed * LANE(K_PER_RELAX));
    }
}

static inline void rate_of_state(
    const double *restrict lane, const double *restrict table, long table_size,
    double *restrict rate)
{
    for (int d = 0; d < DRAWS; d++) {
        double spot = LANE(K_ANSWERED);
        int k = (int)spot;
        k = LESS(N_S - 2, MORE(0, k));
        const double *t = table + d * table_size + N_COLUMNS * k + X0;
        double x0 = t[0] + (spot - k) * (t[N_COLUMNS] - t[0]);
        rate[d] = LANE(K_RATE) * (x0 - LANE(K_STATE));
    }
}

/* Evaluate the strips n times.

   surface, table: of each strip its surface and where its table begins; airs (surfaces, A_COLUMNS,
   DRAWS); totals (6, DRAWS) and sums (surfaces, 4, DRAWS) over rho/2; rates (strips, DRAWS). */
void strips_in_lanes(
    long n, long strips, long surfaces, const long *surface, const long *table, long table_size,
    const double *tables, const double *airs, const double *fixeds, double *lanes, double *totals,
    double *sums, double *rates)
{
    for (long round = 0; round < n; round++) {
        for (long i = 0; i < 6 * DRAWS; i++)
            totals[i] = 0.0;
        for (long i = 0; i < surfaces * 4 * DRAWS; i++)
            sums[i] = 0.0;
        for (long i = 0; i < strips; i++) {
            double *lane = lanes + i * STRIDE * DRAWS;
            const double *fixed = fixeds + i * STRIDE;
            const double *air = airs + surface[i] * A_COLUMNS * DRAWS;
            meet_air(lane, fixed, air);
            for (int d = 0; d < DRAWS; d += FOUR)
                look_up(lane + d, tables + d * table_size + table[i], table_size);
            add_forces(lane, fixed, totals, sums + surface[i] * 4 * DRAWS);
        }
        for (long i = 0; i < strips; i++) {
            double *lane = lanes + i * STRIDE * DRAWS;
            separate(lane, fixeds + i * STRIDE, airs + surface[i] * A_COLUMNS * DRAWS);
            rate_of_state(lane, tables + table[i], table_size, rates + i * DRAWS);
        }
    }
}
