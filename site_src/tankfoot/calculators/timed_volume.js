/** What left the tank, from a stopwatch and a bucket test. Twin of timed_volume.py. */

export function refusals(x) {
  if ((x.bucket_volume === null) !== (x.bucket_time === null)) return [["bucket_time", "half-a-bucket-test"]];
  if (x.flow === null && x.bucket_volume === null) return [["flow", "no-flow"]];
  return x.flow !== null && x.bucket_volume !== null ? [["flow", "two-flows"]] : [];
}

export function compute(x) {
  const flow = x.flow === null ? x.bucket_volume / x.bucket_time : x.flow;
  return { volume_lost: flow * x.duration, flow_used: flow };
}

export function remarks(x) {
  return x.bucket_time !== null && x.bucket_time < 5.0 ? ["short-bucket-test"] : [];
}
