package catchbay.app;

import catchbay.port.PortKind;
import catchbay.record.Fields;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What each of several reference meters says of a port, as in {@code [port.pulses.NAME]}: its keys
 * stand in the port's own section while that meter is in use.
 *
 * @param kind the port
 * @param ports the document {@code port} with the port's section as its provider reads it
 * @param meter the one in use
 * @param own the keys that are the meter's
 */
record MeterLines(PortKind kind, ObjectNode ports, Optional<String> meter, Set<String> own) {

    /** The ports that tell one meter from another. */
    static final List<PortKind> KINDS = List.of(PortKind.PULSES, PortKind.OUTPUTS);

    private static final String PORT = "port";
    private static final String STEM = "reference";
    private static final String LINE = "_line";
    private static final String FIRST_LINE = STEM + LINE;

    /**
     * The section of a port while one of the meters is in use.
     *
     * @param section as it is written
     * @param meters all of them
     */
    static MeterLines of(
            PortKind kind, ObjectNode section, List<String> meters, Optional<String> meter) {
        ObjectNode read = section.deepCopy();
        read.remove(meters);
        Set<String> own = new HashSet<>();
        meter.map(section::get)
                .ifPresent(keys -> {
                    for (Map.Entry<String, JsonNode> entry : keys.properties()) {
                        read.set(entry.getKey(), entry.getValue());
                        own.add(entry.getKey());
                    }
                });
        ObjectNode ports = JsonNodeFactory.instance.objectNode();
        ports.putObject(PORT).set(kind.key(), read);
        return new MeterLines(kind, ports, meter, own);
    }

    /** Where a path of {@link #ports} is written in the settings. */
    String written(String path) {
        String section = PORT + "." + kind.key() + ".";
        String key = path.startsWith(section) ? path.substring(section.length()) : "";
        return meter.isPresent() && own.contains(key) ? section + meter.get() + "." + key : path;
    }

    /**
     * Refuses what the meters' sections of the ports cannot mean.
     *
     * @param ports the settings' section {@code port}
     */
    static void check(Fields ports, List<String> meters) {
        for (PortKind kind : KINDS) {
            Fields section = ports.sectionOrDefaults(kind.key());
            for (String key : section.keys()) {
                if (key.startsWith(STEM) && !meters.contains(key)) {
                    throw section.refused(
                            key,
                            "the bay has several reference meters; write this in ["
                                    + PORT
                                    + "."
                                    + kind.key()
                                    + ".NAME] of the meter that it is for");
                }
            }
            for (String meter : meters) {
                Fields own = section.sectionOrDefaults(meter);
                for (String key : own.keys()) {
                    if (!key.startsWith(STEM)) {
                        throw own.refused(
                                key,
                                "only keys that begin with "
                                        + STEM
                                        + " differ from meter to meter; write it in ["
                                        + PORT
                                        + "."
                                        + kind.key()
                                        + "]");
                    }
                }
            }
        }
        checkLines(ports.sectionOrDefaults(PortKind.PULSES.key()), meters);
    }

    /** Each meter has a line of its own, and all of them have one where one has. */
    private static void checkLines(Fields pulses, List<String> meters) {
        Map<String, String> users = new HashMap<>();
        pulses.keys().stream()
                .filter(key -> key.endsWith(LINE))
                .forEach(key -> users.put(pulses.shown(key), key));
        boolean wired =
                meters.stream().anyMatch(meter -> pulses.sectionOrDefaults(meter).has(FIRST_LINE));
        for (String meter : meters) {
            Fields own = pulses.sectionOrDefaults(meter);
            if (wired && !own.has(FIRST_LINE)) {
                throw own.refused(
                        FIRST_LINE
                                + " is missing; every reference meter needs the line on which its"
                                + " pulses come");
            }
            for (String key : own.keys()) {
                String user = key.endsWith(LINE) ? users.put(own.shown(key), meter) : null;
                if (user != null) {
                    throw own.refused(
                            key,
                            "this line is "
                                    + user
                                    + "'s already; no two may share one, so correct one of them");
                }
            }
        }
    }
}
