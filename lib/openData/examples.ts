/**
 * A published difference of two setups computed again from the CSV files alone: z = setup + car + car on a loop + day + run,
 * by generalised least squares with the fit's own variance components (Aitken 1936; any text on linear models). Shown at
 * /data and run by the slow tests as they stand.
 */
export const R_EXAMPLE = `# Rscript difference.R FOLDER        (base R, no packages)
folder <- commandArgs(trailingOnly = TRUE)[1]
read <- function(table) read.csv(file.path(folder, "data", paste0(table, ".csv")))
runs <- read("runs"); results <- read("results"); fits <- read("fits"); contrasts <- read("contrasts")

# the first pair that met in a session, and the runs of its class that count
pair <- subset(contrasts, kind == "session" & !is.na(difference_log))[1, ]
fit  <- subset(fits, cruise_class == pair$cruise_class)
d <- merge(subset(runs, counts == "true" & cruise_class == pair$cruise_class),
           subset(results, is_normalised == "true"), by = "run")

# what inputs of car and day do unequally to the runs of one day counts with each run's own part
pattern <- '"contribution":([-0-9.e]+),"input":"([^"]+)","key":"([^"]+)","scope":"(car|session)"'
parts <- do.call(rbind, lapply(seq_len(nrow(d)), function(i) {
  found <- regmatches(d$shared_parts[i], gregexpr(pattern, d$shared_parts[i], perl = TRUE))[[1]]
  data.frame(run = rep(i, length(found)), name = sub(pattern, "\\\\2 of \\\\3 (\\\\4)", found, perl = TRUE),
             value = as.numeric(sub(pattern, "\\\\1", found, perl = TRUE)))
}))
w <- numeric(nrow(d))
for (day in split(seq_len(nrow(d)), d$session_id)) {
  n <- length(day)
  for (its in split(parts, parts$name)) {
    x <- ifelse(day %in% its$run, its$value[match(day, its$run)], 0)
    if (n > 1 && any(x != x[1])) w[day] <- w[day] + (x - mean(x))^2 * n / (n - 1)
  }
}

same <- function(x) outer(x, x, "==") * 1
V <- fit$variance_car * same(d$car_id) +
  fit$variance_car_loop * same(paste(d$car_id, d$loop_id)) +
  fit$variance_session * same(d$session_id) +
  diag(fit$variance_run + d$u_run_relative^2 + w)
X <- sapply(sort(unique(d$setup_id)), function(setup) as.numeric(d$setup_id == setup))
b <- solve(t(X) %*% solve(V, X), t(X) %*% solve(V, log(d$normalised_wh_per_km)))[, 1]
names(b) <- colnames(X)

computed <- unname(b[pair$setup_a] - b[pair$setup_b])
cat(sprintf("computed  %.12f\\npublished %.12f\\n", computed, pair$difference_log))
cat(sprintf("A uses %.2f %% %s than B\\n", abs(100 * (exp(computed) - 1)), ifelse(computed < 0, "less", "more")))
`;

export const PYTHON_EXAMPLE = `# python3 difference.py FOLDER        (needs numpy)
import csv, json, sys
from collections import defaultdict
from pathlib import Path
import numpy as np

def read(table):
    with open(Path(sys.argv[1]) / "data" / f"{table}.csv", newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))

csv.field_size_limit(10**9)
results = {row["run"]: row for row in read("results") if row["is_normalised"] == "true"}

# the first pair that met in a session, and the runs of its class that count
pair = next(row for row in read("contrasts") if row["kind"] == "session" and row["difference_log"])
fit = next(row for row in read("fits") if row["cruise_class"] == pair["cruise_class"])
runs = [row for row in read("runs")
        if row["counts"] == "true" and row["cruise_class"] == pair["cruise_class"] and row["run"] in results]

# what inputs of car and day do unequally to the runs of one day counts with each run's own part
w = np.zeros(len(runs))
days = defaultdict(list)
for at, run in enumerate(runs):
    days[run["session_id"]].append(at)
for day in (day for day in days.values() if len(day) > 1):
    inputs = defaultdict(lambda: np.zeros(len(day)))
    for place, at in enumerate(day):
        for part in json.loads(results[runs[at]["run"]]["shared_parts"]):
            if part["scope"] in ("car", "session"):
                inputs[part["input"], part["key"], part["scope"]][place] = part["contribution"]
    for x in inputs.values():
        if (x != x[0]).any():
            w[day] += (x - x.mean()) ** 2 * len(day) / (len(day) - 1)

def same(name):
    labels = np.array([name(run) for run in runs])
    return (labels[:, None] == labels[None, :]).astype(float)

z = np.log([float(results[run["run"]]["normalised_wh_per_km"]) for run in runs])
u = np.array([float(results[run["run"]]["u_run_relative"]) for run in runs])
V = (float(fit["variance_car"]) * same(lambda run: run["car_id"])
     + float(fit["variance_car_loop"]) * same(lambda run: run["car_id"] + " " + run["loop_id"])
     + float(fit["variance_session"]) * same(lambda run: run["session_id"])
     + np.diag(float(fit["variance_run"]) + u**2 + w))
setups = sorted({run["setup_id"] for run in runs})
X = np.array([[float(run["setup_id"] == setup) for setup in setups] for run in runs])
b = dict(zip(setups, np.linalg.solve(X.T @ np.linalg.solve(V, X), X.T @ np.linalg.solve(V, z))))

computed = b[pair["setup_a"]] - b[pair["setup_b"]]
print(f"computed  {computed:.12f}")
print(f"published {float(pair['difference_log']):.12f}")
print(f"A uses {abs(100 * np.expm1(computed)):.2f} % {'less' if computed < 0 else 'more'} than B")
`;
