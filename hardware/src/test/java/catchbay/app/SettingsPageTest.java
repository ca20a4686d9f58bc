package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.port.PortKind;
import catchbay.port.PortProvider;

import org.junit.jupiter.api.Test;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Map;
import java.util.ServiceLoader;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;

/**
 * The table of ports in docs/settings.md names all the providers that the whole program has, and no
 * others.
 */
final class SettingsPageTest {

    /** kind, what it is, providers, default. */
    private static final Pattern ROW =
            Pattern.compile(
                    "^\\| `([a-z]+|pulse_output)` \\| [^|]* \\| ([^|]*`[^|]*) \\| `([a-z]+)` \\|$");

    private static final Pattern NAME = Pattern.compile("`([a-z0-9-]+)`");

    @Test
    void everyProviderIsOnThePage() throws Exception {
        Map<String, TreeSet<String>> onPage = new TreeMap<>();
        Files.readString(Path.of("../src/docs/settings.md"))
                .lines()
                .map(ROW::matcher)
                .filter(row -> row.matches())
                .forEach(row -> {
                    TreeSet<String> names = new TreeSet<>();
                    NAME.matcher(row.group(2)).results().forEach(name -> names.add(name.group(1)));
                    onPage.put(row.group(1), names);
                });

        Map<String, TreeSet<String>> there = new TreeMap<>();
        Arrays.stream(PortKind.values()).forEach(kind -> there.put(kind.key(), new TreeSet<>()));
        for (PortProvider provider : ServiceLoader.load(PortProvider.class)) {
            there.get(provider.kind().key()).add(provider.name());
        }
        for (PortKind kind : PortKind.values()) {
            // These two come with the program itself.
            if (kind == PortKind.OPERATOR) {
                there.get(kind.key()).add(new TerminalOperator.Provider().name());
            } else if (kind != PortKind.TIME) {
                there.get(kind.key()).add(AbsentPorts.NAME);
            }
        }
        assertEquals(there, onPage);
    }
}
