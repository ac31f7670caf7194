#!/usr/bin/env bash
# A batch cut into the tasks of a Slurm job array. Submit it with as many tasks as you like:
#   sbatch --array=1-32 --cpus-per-task=4 tools/cluster/slurm_array.sh my_study.toml /shared/night
# Submitting the same line again goes on where tasks were stopped; another number of tasks will do too.
# BEDSHADE names the program where it is not in PATH.
#SBATCH --job-name=bedshade
#SBATCH --output=bedshade_%A_%a.log
#SBATCH --cpus-per-task=1
#SBATCH --signal=TERM@60
#SBATCH --requeue
set -euo pipefail
[ $# -ge 2 ] || { echo "usage: sbatch --array=1-N $0 STUDY FOLDER [OPTION]..." >&2; exit 2; }
study=$1 folder=$2
shift 2
# Each task has a folder of its own, so that nothing depends on locks that reach across machines.
mkdir -p "$folder"
# exec: Slurm's signals go to the program itself.
exec "${BEDSHADE:-bedshade}" batch "$study" --shard auto --out "$folder/$SLURM_ARRAY_TASK_ID" "$@"
