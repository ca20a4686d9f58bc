package catchbay.record;

import catchbay.quantity.MassUnit;
import catchbay.quantity.Temperature;
import catchbay.run.BayCommand;
import catchbay.run.BayComputer;
import catchbay.run.BayContact;
import catchbay.run.Question;
import catchbay.run.RunInput;
import catchbay.run.RunSetup;
import catchbay.signal.EdgeBatch;
import catchbay.signal.PressureReading;
import catchbay.signal.PulseLine;
import catchbay.signal.ScaleFrame;
import catchbay.signal.TemperaturePlace;
import catchbay.signal.TemperatureReading;

import com.fasterxml.jackson.databind.JsonNode;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** Reads one line of a trace, in any form that the format allows. */
final class LineText {

    private static final Pattern SHA256 = Pattern.compile("[0-9a-f]{64}");

    /** The keys that say what a line is about; a quantity's stands without its unit. */
    private static final List<String> KINDS =
            List.of(
                    "turn",
                    "edges",
                    "edge",
                    "train",
                    "contact",
                    "scale",
                    "unread",
                    "temperature",
                    "coupler_",
                    "total_",
                    "typed_salt_",
                    "typed_",
                    "sent",
                    "disk_free_bytes",
                    "checklist",
                    "speed_checklist",
                    "done",
                    "stop",
                    "port_failed",
                    "durable_to",
                    "trace_failed",
                    "computer",
                    "state",
                    "command",
                    "end");

    private LineText() {}

    static TraceLine.Header header(JsonNode node, String place) {
        Fields line = Fields.recorded(node, path -> place);
        long format = line.whole("catchbay_trace", 1, Integer.MAX_VALUE);
        if (format > TraceText.FORMAT_VERSION) {
            throw line.refused(
                    "catchbay_trace",
                    "this program reads trace format "
                            + TraceText.FORMAT_VERSION
                            + "; read it with the newer program that wrote it");
        }
        Optional<Instant> wall =
                line.has("wall") ? Optional.of(line.moment("wall")) : Optional.empty();
        OptionalInt method =
                line.has("method")
                        ? OptionalInt.of((int) line.whole("method", 1, Integer.MAX_VALUE))
                        : OptionalInt.empty();
        Optional<String> run = line.optionalText("run");
        TraceLine.Origin origin =
                line.named("origin", TraceLine.Origin::ofKey, TraceLine.Origin.WRITTEN);
        Optional<String> boot = line.optionalText("boot");
        Optional<String> program = line.optionalText("program");
        TraceLine.Turns turns = line.choice("turns", TraceLine.Turns.class);
        Optional<LocalDate> day = wall.map(moment -> moment.atOffset(ZoneOffset.UTC).toLocalDate());
        RunSetup setup = SetupText.read(line.section("setup"), day);
        line.finish();
        return line.made(
                () -> new TraceLine.Header(method, run, origin, boot, wall, program, turns, setup));
    }

    static TraceLine line(JsonNode node, String place, TraceLine.Turns turns) {
        Fields line = Fields.recorded(node, path -> place);
        long at = line.whole("at", 0, TraceLine.STAMP_NANOS_MAX);
        String kind = kind(node, line);
        TraceLine read =
                switch (kind) {
                    case "state" -> new TraceLine.State(at, line.text("state"));
                    case "computer" -> new TraceLine.Computer(at, computer(line));
                    case "command" -> new TraceLine.Command(at, command(line));
                    case "end" -> closing(at, line);
                    case "train" -> train(at, line, turns);
                    default -> new TraceLine.Input(input(kind, at, line));
                };
        line.finish();
        return read;
    }

    private static String kind(JsonNode node, Fields line) {
        for (String kind : KINDS) {
            boolean quantity = kind.endsWith("_");
            for (var entry : node.properties()) {
                if (quantity ? entry.getKey().startsWith(kind) : entry.getKey().equals(kind)) {
                    return kind;
                }
            }
        }
        throw line.refused(
                "it says when, but not what; use one of "
                        + KINDS.stream()
                                .map(kind -> kind.endsWith("_") ? kind + "UNIT" : kind)
                                .collect(Collectors.joining(", ")));
    }

    private static RunInput input(String kind, long at, Fields line) {
        return switch (kind) {
            case "turn" -> {
                line.whole("turn", 1, 1);
                yield new RunInput.Turn(at);
            }
            case "edges" -> edges(at, line);
            case "edge" ->
                    new RunInput.Edges(
                            line.named("edge", PulseLine::ofKey),
                            EdgeBatch.of(sequence("seq", line), at));
            case "contact" ->
                    new RunInput.Contact(
                            at, line.named("contact", BayContact::ofKey), line.flag("active"));
            case "scale" -> new RunInput.Scale(at, frame(line));
            case "unread" -> unread(at, line);
            case "temperature" ->
                    new RunInput.Thermometer(
                            at,
                            line.named("temperature", TemperaturePlace::ofKey),
                            thermometer(line));
            case "coupler_" -> new RunInput.CouplerPressure(at, gauge(line));
            case "total_" ->
                    new RunInput.ControllerTotal(at, line.quantity("total", Measure.VOLUME));
            case "typed_salt_" ->
                    new RunInput.SaltTyped(at, line.quantity("typed_salt", Measure.MASS));
            case "typed_" -> new RunInput.TotalTyped(at, line.quantity("typed", Measure.VOLUME));
            case "checklist" -> {
                String by = line.words("checklist");
                yield line.made(() -> new RunInput.ChecklistConfirmed(at, by));
            }
            case "speed_checklist" -> {
                String by = line.words("speed_checklist");
                yield line.made(() -> new RunInput.SpeedConfirmed(at, by));
            }
            case "sent" -> {
                PulseLine sent = line.named("sent", PulseLine::ofKey);
                double hertz = line.number("hertz", 0, Double.MAX_VALUE);
                boolean rising = line.flag("rising", false);
                yield line.made(() -> new RunInput.PulsesSent(at, sent, hertz, rising));
            }
            case "disk_free_bytes" ->
                    new RunInput.DiskFree(at, line.whole("disk_free_bytes", 0, Long.MAX_VALUE));
            case "done" -> new RunInput.Done(at, line.named("done", Question::ofKey));
            case "stop" -> new RunInput.StopPressed(at, line.words("stop"));
            case "port_failed" ->
                    new RunInput.PortFailed(at, line.words("port_failed"), line.words("reason"));
            case "durable_to" ->
                    new RunInput.TraceDurable(
                            at, line.whole("durable_to", 0, TraceLine.STAMP_NANOS_MAX));
            case "trace_failed" -> new RunInput.TraceFailed(at, line.words("trace_failed"));
            default -> throw new AssertionError("no such kind of line: " + kind);
        };
    }

    private static BayComputer computer(Fields line) {
        Fields told = line.section("computer");
        OptionalInt flags =
                told.has("power_flags")
                        ? OptionalInt.of(
                                (int) told.whole("power_flags", 0, BayComputer.POWER_FLAGS_MAX))
                        : OptionalInt.empty();
        Optional<Set<BayComputer.ClockDoubt>> doubts =
                told.has("clock_doubts")
                        ? Optional.of(
                                told.texts("clock_doubts").stream()
                                        .map(word -> clockDoubt(word, told))
                                        .collect(Collectors.toSet()))
                        : Optional.empty();
        OptionalLong free =
                told.has("free_bytes")
                        ? OptionalLong.of(told.whole("free_bytes", 0, Long.MAX_VALUE))
                        : OptionalLong.empty();
        told.finish();
        return new BayComputer(flags, doubts, free);
    }

    private static BayComputer.ClockDoubt clockDoubt(String word, Fields told) {
        for (BayComputer.ClockDoubt doubt : BayComputer.ClockDoubt.values()) {
            if (Fields.spelt(doubt).equals(word)) {
                return doubt;
            }
        }
        throw told.refused(
                "clock_doubts", "'" + word + "' is none of unset, stepped, behind-records");
    }

    private static RunInput unread(long at, Fields line) {
        String port = line.words("unread");
        long frames = line.whole("frames", 0, Integer.MAX_VALUE);
        long bytes = line.whole("bytes", 0, Integer.MAX_VALUE);
        String reason = line.words("reason");
        return line.made(() -> new RunInput.Unread(at, port, frames, bytes, reason));
    }

    private static RunInput edges(long at, Fields line) {
        PulseLine pulses = line.named("edges", PulseLine::ofKey);
        long first = sequence("first_seq", line);
        long[] gaps = line.wholes("gaps_ns");
        long[] stamps = new long[gaps.length + 1];
        stamps[0] = at;
        for (int i = 0; i < gaps.length; i++) {
            // Both are so far from the bounds of a long that only a gap out of all measure could
            // overflow.
            long gap = gaps[i];
            long stamp = stamps[i] + gap;
            boolean outside =
                    gap > TraceLine.STAMP_NANOS_MAX
                            || gap < -TraceLine.STAMP_NANOS_MAX
                            || stamp < 0
                            || stamp > TraceLine.STAMP_NANOS_MAX;
            if (outside) {
                throw line.refused(
                        "gaps_ns[" + i + "]",
                        gap
                                + " puts an edge outside 0 to "
                                + TraceLine.STAMP_NANOS_MAX
                                + " ns; check at and the gaps");
            }
            stamps[i + 1] = stamp;
        }
        return new RunInput.Edges(pulses, EdgeBatch.of(first, stamps));
    }

    private static TemperatureReading thermometer(Fields line) {
        Optional<Temperature> shown = line.optionalQuantity("", Measure.TEMPERATURE);
        if (shown.isPresent() && line.has("no_reading")) {
            throw line.refused("no_reading", "a temperature is given too; keep one of the two");
        }
        return shown.isPresent()
                ? new TemperatureReading.Shown(shown.get())
                : new TemperatureReading.Missing(line.words("no_reading"));
    }

    private static PressureReading gauge(Fields line) {
        if (!line.has("coupler_missing")) {
            return new PressureReading.Shown(line.quantity("coupler", Measure.PRESSURE));
        }
        if (line.optionalQuantity("coupler", Measure.PRESSURE).isPresent()) {
            throw line.refused("coupler_missing", "a pressure is given too; keep one of the two");
        }
        return new PressureReading.Missing(line.words("coupler_missing"));
    }

    private static TraceLine.Train train(long at, Fields line, TraceLine.Turns turns) {
        if (turns == TraceLine.Turns.RECORDED) {
            throw line.refused(
                    "train",
                    "a trace with recorded turns has none; write \"turns\":\"implied\" in its "
                            + "first "
                            + "line, or edges as they came");
        }
        PulseLine pulses = line.named("train", PulseLine::ofKey);
        long first = sequence("first_seq", line);
        int count = (int) line.whole("count", 1, TraceLine.Train.COUNT_MAX);
        boolean byRate = line.has("hertz");
        if (byRate && line.has("period_ns")) {
            throw line.refused("period_ns", "hertz is given too; keep one of the two");
        }
        TraceLine.Spacing spacing =
                byRate
                        ? new TraceLine.Spacing.Rate(line.number("hertz", 0.001, 1e6))
                        : new TraceLine.Spacing.Period(
                                line.whole("period_ns", 1, 1_000_000_000_000L));
        return line.made(() -> new TraceLine.Train(pulses, first, count, at, spacing));
    }

    private static long sequence(String key, Fields line) {
        return line.whole(key, 0, TraceLine.SEQUENCE_MAX);
    }

    private static ScaleFrame frame(Fields line) {
        String what = line.text("scale");
        if (what.equals("weight")) {
            return new ScaleFrame.Weight(
                    line.number("amount", -Double.MAX_VALUE, Double.MAX_VALUE),
                    line.named("unit", MassUnit::ofSymbol),
                    line.flag("net", false),
                    line.flag("motion", false));
        }
        if (what.equals("no-weight")) {
            return new ScaleFrame.NoWeight(line.words("reason"));
        }
        throw line.refused("scale", "it must be weight or no-weight");
    }

    private static BayCommand command(Fields line) {
        return switch (line.text("command")) {
            case "divert" -> new BayCommand.Divert(line.choice("way", BayCommand.Way.class));
            case "drain" -> new BayCommand.Drain(line.flag("open"));
            case "supply" -> new BayCommand.Supply(line.flag("on"));
            case "ground-speed" ->
                    new BayCommand.GroundSpeed(line.number("hertz", 0, Double.MAX_VALUE));
            case "feeder" -> new BayCommand.Feeder(line.number("hertz", 0, Double.MAX_VALUE));
            case "ask" -> new BayCommand.Ask(line.named("question", Question::ofKey));
            case "secure-trace" -> new BayCommand.SecureTrace();
            default ->
                    throw line.refused(
                            "command",
                            "it must be divert, drain, supply, ground-speed, feeder, ask or "
                                    + "secure-trace");
        };
    }

    private static TraceLine.Closing closing(long at, Fields line) {
        String sha256 = line.words("sha256");
        if (!SHA256.matcher(sha256).matches()) {
            throw line.refused("sha256", "it must be 64 lower-case hexadecimal digits");
        }
        return new TraceLine.Closing(
                at,
                line.text("end"),
                line.words("reason"),
                line.whole("lines", 1, Long.MAX_VALUE),
                sha256);
    }
}
