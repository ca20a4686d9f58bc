package catchbay.app;

import catchbay.port.PortKind;
import catchbay.port.PortOpening;
import catchbay.port.PortProvider;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * A played bay as ports that the program finds by itself, for one thread: in no other test and no
 * other module's tests are they there.
 */
final class PlayedPorts implements AutoCloseable {

    /** The ports' section of settings. */
    static final String SETTINGS =
            """
            [port.time]
            provider = "played"
            [port.contacts]
            provider = "played"
            [port.scale]
            provider = "played"
            [port.operator]
            provider = "played"
            """;

    private static final ThreadLocal<PlayedBay> BAY = new ThreadLocal<>();

    private final ClassLoader before = Thread.currentThread().getContextClassLoader();

    /** Lets this thread's program find the bay; the folder is for the list of its ports. */
    PlayedPorts(Path folder, PlayedBay bay) {
        BAY.set(bay);
        find(folder, List.of(Clock.class, Contacts.class, Scale.class, Person.class));
    }

    /** Lets this thread's program find these providers of ports beside its own. */
    static void find(Path folder, List<Class<?>> providers) {
        try {
            Path services = Files.createDirectories(folder.resolve("META-INF/services"));
            Files.write(
                    services.resolve(PortProvider.class.getName()),
                    providers.stream().map(Class::getName).toList());
            Thread thread = Thread.currentThread();
            thread.setContextClassLoader(
                    new URLClassLoader(
                            new URL[] {folder.toUri().toURL()}, thread.getContextClassLoader()));
        } catch (IOException unwritable) {
            throw new UncheckedIOException(unwritable);
        }
    }

    @Override
    public void close() {
        Thread.currentThread().setContextClassLoader(before);
        BAY.remove();
    }

    /** The bay's clock. */
    public static final class Clock extends Played {
        public Clock() {
            super(PortKind.TIME);
        }

        @Override
        public Object open(PortOpening opening) {
            return BAY.get().time;
        }
    }

    /** What its timetable says. */
    public static final class Contacts extends Played {
        public Contacts() {
            super(PortKind.CONTACTS);
        }

        @Override
        public Object open(PortOpening opening) {
            return BAY.get().ports().sources().getFirst().source();
        }
    }

    /** Its scale. */
    public static final class Scale extends Played {
        public Scale() {
            super(PortKind.SCALE);
        }

        @Override
        public Object open(PortOpening opening) {
            return BAY.get().ports().sources().getLast().source();
        }
    }

    /** Its operator. */
    public static final class Person extends Played {
        public Person() {
            super(PortKind.OPERATOR);
        }

        @Override
        public Object open(PortOpening opening) {
            return BAY.get().ports().operator();
        }
    }

    abstract static class Played implements PortProvider {
        private final PortKind kind;

        Played(PortKind kind) {
            this.kind = kind;
        }

        @Override
        public PortKind kind() {
            return kind;
        }

        @Override
        public String name() {
            return "played";
        }

        @Override
        public boolean simulated() {
            return true;
        }
    }
}
