# Frases de lo que dicen el auto, las herramientas y la sesión. Español.
# `.words` lista lo que se puede escribir; la primera palabra es la que se muestra.

decimal-separator = ,

## Unidades

unit-volts = { $value } voltios
unit-ohms = { $value } ohmios
unit-amps = { $value } amperios
unit-psi = { $value } psi
unit-kpa = { $value } kPa
unit-bar = { $value } bar
unit-celsius = { $value } °C
unit-fahrenheit = { $value } °F
unit-minutes = { $value } min

## Dónde se está

station-seat = asiento del conductor
    .words = asiento, conductor
station-bay = compartimiento del motor
    .words = motor, capó, compartimiento
station-box = caja de fusibles
    .words = caja, fusibles
station-bench = banco de trabajo
    .words = banco

## Herramientas

tool-test-light = lámpara de prueba
    .words = prueba, lámpara-de-prueba
tool-led-light = lámpara de prueba LED
    .words = prueba-led
tool-fused-jumper = puente con fusible
    .words = puente, puente-con-fusible
tool-plain-jumper = puente sin fusible
    .words = puente-sin-fusible, directo
tool-meter = multímetro
    .words = multímetro, medidor, tester
tool-breakout = adaptador de zócalo
    .words = adaptador
tool-gauge = manómetro de baja
    .words = manómetro
tool-lamp = lámpara de inspección
    .words = linterna, lámpara
tool-thermometer = termómetro
    .words = termómetro

lead-clip = pinza
    .words = pinza
lead-probe = punta
    .words = punta
lead-a = extremo A
    .words = a
lead-b = extremo B
    .words = b
lead-red = punta roja
    .words = roja, rojo
lead-black = punta negra
    .words = negra, negro

dial-off = apagado
    .words = apagado
dial-volts = voltios de corriente continua
    .words = voltios, tensión
dial-ohms = ohmios
    .words = ohmios, resistencia
dial-amps = amperios de corriente continua, borne de 10 A
    .words = amperios, corriente

glow-dark = apagada
glow-faint = un resplandor rojo muy débil
glow-dim = encendida, pero débil
glow-bright = encendida con fuerza

## Puntos

point-kind-cavity = cavidad del zócalo
point-kind-blade = pata
point-kind-test-tab = punto de prueba del fusible
point-kind-back-probe = terminal, por detrás del conector
point-kind-pin = pin de la pieza
point-kind-plug-face = terminal en la cara del conector
point-kind-post = borne de la batería
point-kind-stud = perno de masa
point-kind-paint = metal pintado

blade-size-wide = ancha
blade-size-narrow = angosta

## Nombres

name-relay = relé { $id }
name-fuse = fusible { $id }
name-terminal = terminal { $id }
name-point = { $id } ({ $part })
name-wire = cable { $id } ({ $colour })
name-wire-between = cable { $id } ({ $colour }, de { $from } a { $to })
name-refrigerant = el refrigerante

## Lo que se percibe

seen-light = { $tool } en { $point }: { $glow }.
seen-meter = Multímetro en { $point }: { $display }.
seen-gauge = Manómetro de baja: { $pressure }.
seen-temperature = Termómetro, { $place }: { $temperature }.
seen-heard = Sonido: { $sound } ({ $place }).
seen-silence = { $place }: no se oye nada.
seen-seen = { $place }: { $finding }.
seen-lamp = { $place }, { $lamp }: { $finding }.
seen-nothing = { $place }: no se ve nada fuera de lo común.
seen-too-dark = { $place }: está demasiado oscuro para ver. Apunte ahí la lámpara de inspección y mire otra vez.
seen-felt = { $place }: { $touch }.
seen-spark = { $strong ->
    [yes] Una chispa fuerte en { $point }.
   *[no] Una chispa pequeña en { $point }.
  }
seen-tool-fuse-blew = Se fundió el fusible de: { $tool }.
seen-smoke = ¡Humo: { $place }!
seen-dash = { $awake ->
    [yes] Tablero de instrumentos: { $rpm } rpm, testigo de carga { $charge ->
        [on] encendido
       *[off] apagado
      }.
   *[no] Tablero de instrumentos: todo apagado.
  }
seen-repaired = { $target }: hecho, como nuevo.
seen-hint-asked = Se pidió una pista de nivel { $level }.

meter-over-range = fuera de rango, sin continuidad
meter-nonsense = oscila cerca de { $value } y no se estabiliza
meter-blank = pantalla en blanco

sound-relay-click = un relé hace clic
sound-relay-buzz = un relé zumba
sound-clutch-in = el embrague del compresor acopla de golpe
sound-clutch-out = el embrague del compresor se suelta
sound-cranking = el motor de arranque gira
sound-slow-cranking = el motor de arranque gira despacio
sound-starter-click = un solo clic del motor de arranque, sin girar
sound-engine-starts = el motor arranca
sound-engine-stops = el motor se detiene
sound-engine = el motor en marcha
sound-blower = el ventilador de cabina
sound-fan = un electroventilador
sound-pump = la bomba de combustible
sound-horn = la bocina
sound-hiss = un silbido de refrigerante
sound-silence = nada

finding-not-seated = el conector no está bien asentado
finding-terminal-back = un terminal está hundido en su cavidad
finding-terminal-spread = un terminal está ensanchado y apenas agarra
finding-corrosion = polvo verde o blanco: corrosión
finding-chafed = aislante rozado hasta el cobre
finding-element-gone = el elemento del fusible está fundido
finding-element-whole = el elemento del fusible está entero
finding-heat-marks = marcas de calor, plástico tostado
finding-oil-trace = suciedad aceitosa
finding-fins-blocked = las aletas están llenas de suciedad
finding-dust = polvo, suciedad vieja, algo de óxido superficial
finding-plate-still = la polea gira, el plato del embrague está quieto
finding-plate-turns = la polea y el plato del embrague giran juntos
finding-pulley-still = la polea está quieta
finding-wide-gap = mucha separación entre el plato y la polea
finding-fan-turns = el ventilador gira
finding-fan-still = el ventilador está quieto
finding-lit = encendida
finding-dull = encendida, pero débil
finding-unlit = apagada
finding-wet = hay agua

touch-no-air = no sale aire
touch-weak-air = sale poco aire
touch-warm-air = sale mucho aire, no más fresco que afuera
touch-cool-air = sale mucho aire, un poco más fresco que afuera
touch-cold-air = sale mucho aire, frío
touch-still = en reposo, a la temperatura del aire
touch-vibrates = vibra
touch-warm = tibio
touch-hot = demasiado caliente para dejar la mano
touch-cold = frío
touch-plug-moved = el conector se mueve y encaja con un clic
touch-plug-firm = el conector está firme
touch-loose-fit = entra casi sin agarre
touch-firm-fit = agarra bien

## Lo que se puede declarar como falla

failure-open = abierto, no pasa corriente
    .words = abierto
failure-high-resistance = demasiada resistencia
    .words = resistencia, resistencia-alta
failure-short-to-ground = corto a masa
    .words = corto-a-masa, masa
failure-short-to-supply = corto a positivo
    .words = corto-a-positivo, positivo
failure-not-seated = conector mal asentado
    .words = mal-asentado
failure-bad-terminal = terminal hundido o ensanchado
    .words = terminal, mal-terminal
failure-blown = fusible fundido
    .words = fundido
failure-blown-bulb = bombilla fundida
failure-blown-any = fusible o bombilla fundidos
failure-coil = bobina dañada
    .words = bobina
failure-contacts = contactos dañados
    .words = contactos
failure-stuck-on = pegado, siempre conectado
    .words = pegado
failure-mechanical = desgastado o trabado
    .words = mecánico, gastado, trabado
failure-diode = diodo supresor dañado
    .words = diodo
failure-no-output = el módulo no activa su salida
    .words = sin-salida
failure-reading-off = sensor o interruptor con señal errónea
    .words = mala-lectura
failure-low-charge = poco refrigerante
    .words = carga-baja, poco
failure-blocked = condensador sin paso de aire
    .words = tapado
failure-misuse = nada roto, uso incorrecto
    .words = mal-uso
failure-wrong-part = pieza de tipo equivocado
    .words = pieza-equivocada
failure-crossed = cables o terminales cruzados
    .words = cruzado, cruzados
failure-no-fault = sin falla, funciona como debe
    .words = sin-falla, sin-fallo
failure-water-ingress = entró agua
    .words = agua, mojado

## Cómo se repara

method-replace = reemplazo por pieza nueva
    .words = reemplazar, cambiar
method-reseat = conector empujado hasta que encajó
    .words = asentar
method-mend-terminal = terminal reparado o renovado
    .words = reparar-terminal, terminal
method-mend-wire = cable reparado con un empalme de la misma sección
    .words = reparar-cable, cable
method-clean-joint = conexión limpiada y apretada
    .words = limpiar-conexión, limpiar-unión, limpiar
method-recharge = fuga buscada y recarga hecha por personal con licencia
    .words = recargar
method-clean-condenser = cara del condensador limpiada
    .words = limpiar-condensador, lavar
method-explain = se mostró al conductor cómo se usa
    .words = explicar, mostrar

item-original = el original
    .words = original, mismo
item-spare = un repuesto comprobado
    .words = repuesto, bueno

## Lo que se hizo

did-go = Fue a: { $station }.
did-set = Puso { $control } en { $to }.
did-wait = Esperó { $seconds } s.
did-protect = Se puso protección para los ojos y guantes.
did-uncover = Quitó: { $cover }.
did-cover = Volvió a poner: { $cover }.
did-pull = Sacó: { $part }.
did-fit = Colocó { $item } en el lugar de { $part }{ $turned ->
    [yes] , girado media vuelta
   *[no] {""}
  }.
did-unplug = Desconectó: { $plug }.
did-plug = Conectó empujando: { $plug }.
did-wiggle = Movió el mazo de cables: { $place }.
did-spray = Roció con agua: { $place }.
did-look = Miró: { $place }.
did-inspect = Miró de cerca: { $place }.
did-listen = Escuchó: { $place }.
did-feel = Palpó: { $place }.
did-light = Apuntó la lámpara de inspección: { $place }.
did-light-away = Guardó la lámpara de inspección.
did-put = Puso { $lead } ({ $tool }) en { $point }.
did-lift = Quitó { $lead } ({ $tool }).
did-touch = Tocó { $point } con: { $tool }.
did-sweep = Tocó todas las cavidades del zócalo de { $part } con: { $tool }.
did-renew = Puso una bombilla o un fusible nuevos: { $tool }.
did-dial = Giró el multímetro a { $dial }.
did-breakout = Puso el adaptador en el zócalo de { $part }.
did-breakout-out = Quitó el adaptador.
did-gauge-on = Conectó el manómetro a la toma de baja.
did-gauge-off = Quitó el manómetro.
did-thermometer = Puso el termómetro: { $place }.
did-note = Anotó: { $text }
did-hint = Pidió una pista de nivel { $level }.
did-call = Diagnóstico: { $target }, { $failure }.
did-repair = Reparación: { $target }, { $method }.
did-hand-back = Entregó el auto. Queja: { $complaint }; causa: { $cause }; corrección: { $correction }

## Por qué no se puede, y qué hacer

refused-handed-back = El auto ya se entregó. Empiece el caso otra vez para probar otro camino.
refused-unknown = No hay “{ $name }” en este auto. Revise cómo lo escribió, o pida la lista de lo que hay.
refused-unknown-nearest = No hay “{ $name }” en este auto. ¿Quiso decir “{ $nearest }”?
refused-no-such-position = { $control } no tiene esa posición. Tiene: { $positions }.
refused-go-first = Desde aquí no se alcanza. Vaya primero a: { $station }.
refused-nothing-there = Allí no hay nada que hacer ({ $station }) en este caso.
refused-cover-off = No está en su lugar: { $cover }. Vuelva a tapar primero: la lluvia cae sobre la caja cerrada, y el agua en contactos desnudos sería una falla causada por usted.
refused-stands-open = { $what } está abierto ahí. Ciérrelo primero: el agua en terminales desnudos sería una falla causada por usted.
refused-no-water-there = Ahí el agua no tiene nada que hacer. Rocíe donde llegan la lluvia y las salpicaduras del camino: bajo el capó.
refused-cover-on = Estorba: { $cover }. Quítelo primero.
refused-fitted = Estorba: { $what }. Sáquelo o desconéctelo primero, o use el adaptador.
refused-stays-in = { $what }: no se saca para mirarlo; solo se sacan relés, fusibles y conectores. Mire el lugar donde está ({ $place }), mida en sus terminales, o dé su diagnóstico y repárelo.
refused-not-fitted = No está en su lugar: { $what }. Colóquelo o conéctelo primero.
refused-no-access = No se alcanza { $point } con una punta. Elija otro punto del mismo cable.
refused-off-limits = { $what } es de un circuito de airbag o de alta tensión. Aquí nadie lo toca: déjelo y use otro punto.
refused-no-such-tool = En este caso no hay: { $tool }. Use una de las herramientas que hay.
refused-wrong-use = No se usa así: { $tool }. Pida ayuda del comando para ver qué puntas tiene.
refused-lead-in-the-way = Una punta quedaría atrapada: { $tool }. Quítela primero.
refused-lead-free = La otra punta está suelta: { $tool }. Póngala primero en un punto.
refused-same-point = Las dos puntas quedarían en el mismo punto. Elija otro punto para una de ellas.
refused-already-so = Ya está así. No hay nada que hacer.
refused-no-spare = No hay repuesto para { $part } en el banco. Pruebe el original.
refused-does-not-turn = { $part } no entra girado: sus patas son distintas. Colóquelo al derecho.
refused-not-that-way = { $target } no se repara así. Elija otra forma de reparación.
refused-out-of-range = { $what } es demasiado grande. Lo máximo es { $most }.
refused-wait-too-long = Una espera dura como máximo { $seconds } segundos. Espere otra vez para más.
refused-too-long = El texto es demasiado largo. Use hasta { $most } caracteres.
refused-forbidden = Las reglas de esta tarea no lo permiten: { $rule }.
refused-stop-first = No con el motor en marcha ni con el contacto puesto. Detenga el motor y quite el contacto primero.
refused-unsettled = Los circuitos del auto no se estabilizan así: estos conmutan sin fin. No se hizo. Revise: { $parts }.
refused-unsolved = Así no se pueden hallar las corrientes de una parte de los circuitos del auto. No se hizo. Revise: { $parts }.

## Casos

draw-unknown-scenario = No hay escenario “{ $id }”. Pida la lista de escenarios para ver los que hay.
draw-unknown-scenario-nearest = No hay escenario “{ $id }”. ¿Quiso decir “{ $nearest }”?
draw-unknown-vehicle = El escenario necesita el vehículo “{ $id }”, que no está. Ponga su archivo en la carpeta scenarios/vehicles.

## Archivos de intentos

assignment-too-large = El archivo tiene más de { $most } bytes, así que no es una tarea.
assignment-not-text = El archivo no es texto UTF-8, así que no es una tarea.
assignment-not-one = Este no es un archivo de tarea: { $detail }
assignment-format = La tarea tiene el formato { $found } y este programa lee el formato { $reads }: la hizo otra versión del programa; use esa o pida al instructor un archivo nuevo.
assignment-wrong = { $at }: { $what }
attempt-empty = El archivo está vacío. No se registró nada; empiece el caso otra vez.
attempt-too-large = El archivo pasa de { $most } bytes, más que cualquier intento. Elija otro archivo.
attempt-line-too-long = La línea { $line } pasa de { $most } bytes, más que cualquier acción. Elija otro archivo, o corte esa línea y las siguientes.
attempt-too-many-lines = El archivo tiene más de { $most } acciones. Elija otro archivo.
attempt-no-header = La primera línea no es el comienzo de un intento: { $detail }. Elija otro archivo; si el programa se detuvo al crearlo, no se registró nada y se puede borrar.
attempt-format = El intento está en el formato { $found }; este programa lee el formato { $reads }. Ábralo con la versión del programa que lo hizo.
attempt-damaged-not-text = La línea { $line } tiene bytes que no son texto. Recupere una copia del archivo, o corte esa línea y las siguientes para seguir desde ahí.
attempt-damaged-not-an-action = La línea { $line } no es una acción: { $detail }. Recupere una copia del archivo, o corte esa línea y las siguientes para seguir desde ahí.
attempt-damaged-out-of-order = La línea { $line } es la acción { $found } donde tocaba la { $expected }: falta una línea, o está repetida o cambiada. Recupere una copia del archivo.
attempt-other-scenario = El intento es del escenario “{ $file }”, no de “{ $here }”. Ábralo con su propio escenario.
attempt-other-version = El intento es de la versión { $file } de “{ $scenario }”; aquí está la versión { $here }. Use el programa o la carpeta de datos con la versión { $file }, o empiece el caso otra vez.
attempt-other-engine = El intento se hizo con la revisión { $file } del motor de cálculo; este programa tiene la { $here }, cuyas lecturas pueden diferir. Ábralo con la versión del programa que lo hizo.
attempt-other-seed = El intento es de la semilla { $file }; aquí está la semilla { $here }. Ábralo con su propia semilla.
attempt-torn = La última línea del archivo, la { $line }, quedó cortada al detenerse el programa. Se descartó; lo que habría mostrado nunca se vio.
attempt-content-changed = El archivo del escenario o del vehículo cambió sin subir su versión desde que empezó este intento. Las lecturas se comprueban igual línea por línea.

replay-refused = La línea { $line } del intento no se puede hacer en este auto: { $why } El archivo fue editado, o cambió el archivo del auto.
replay-unsolvable = Los circuitos de este auto no tienen solución como los describe su archivo: { $detail }. Revise el archivo del vehículo.
replay-chain-differs = La línea { $line } del intento no concuerda con lo que muestra el auto: esa línea o una anterior fue editada, o cambió el archivo del auto. Lo que está antes de la línea { $line } es válido.

## Guardar archivos

shelf-cannot-read = No se puede leer { $path }: { $detail }. Revise el nombre y los permisos.
shelf-cannot-list = No se puede leer la carpeta { $path }: { $detail }. Revise el nombre y los permisos.
shelf-cannot-create = No se puede crear { $path }: { $detail }. Elija otra carpeta para guardar, o indique que no se guarde nada.
shelf-cannot-write = No se puede escribir en { $path }: { $detail }. Libere espacio o corrija los permisos y pruebe otra vez, o siga sin guardar.
shelf-not-found = No existe el archivo { $path }. Revise el nombre.
shelf-no-home = No se conoce una carpeta para guardar en este sistema. Indique una, o indique que no se guarde nada.
shelf-too-large = { $path } pasa de { $most } bytes, más que cualquier archivo de este tipo. Elija otro archivo.
shelf-not-text = { $path } no es un archivo de texto. Elija otro archivo.
shelf-elsewhere = Mientras tanto, { $path } siguió en otra ventana. No se ha perdido nada: siga allí, o siga aquí sin guardar.
shelf-in-use = { $path } está abierto en otro programa. Ciérrelo allí primero.
shelf-attempt = { $path }: { $why }

## Precauciones

cautions-title = Antes de tocar un auto de verdad
caution-law = Primero están las normas locales y el trabajo de profesionales con licencia. Esto es un simulador: enseña a razonar, no los procedimientos de su auto.
caution-belts = Aleje manos, pelo, mangas y cables de correas y ventiladores. Un electroventilador puede arrancar en cualquier momento, también con el motor apagado.
caution-hot = El motor, el escape y el circuito de refrigeración queman. Deje que se enfríen.
caution-eyes = Use protección para los ojos bajo el capó, y guantes al manejar tuberías o baterías.
caution-refrigerant = El gas refrigerante es solo para personal con licencia. Congela la piel, y liberarlo es ilegal en muchos lugares.
caution-off-limits = Los circuitos de airbag y de alta tensión (a menudo amarillos o naranjas) no se tocan. Nunca los pruebe.
caution-exhaust = Nunca haga funcionar un motor bajo techo sin extracción de gases.

# Tareas
assigned-title = Tarea: { $title }
assigned-due = Fecha límite: { $due } (UTC).
assigned-late = El plazo terminó en { $due } (UTC). Aún se puede trabajar; quedará marcada como tardía.
assigned-not-open = Esta tarea se abre en { $opens } (UTC).
assigned-tools = Herramientas permitidas: { $tools }.
assigned-no-hints = Sin pistas.
assigned-attempt = Intento { $n } de { $most }. Cuenta desde ahora.
assigned-seen = Aquí ya se trabajó y se entregó un caso con este número. Su instructor lo verá.
assigned-none-left = Ya se usaron los { $most } intentos permitidos en este caso.
assigned-unknown = En esta tarea no hay nadie con el ID “{ $id }”. Use su ID como está en la lista de la clase.
