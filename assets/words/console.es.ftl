# Las frases propias de la terminal. Español.
# De cada comando: qué hace, `.words` lo que se puede escribir, `.usage` cómo se escribe.

## Comandos: moverse y los mandos del auto

cmd-go = Ir a un lugar de trabajo.
    .words = ir, ve
    .usage = ir asiento | motor | caja | banco
cmd-set = Poner un mando del auto en una posición. La palabra “poner” se puede omitir: key on, ac on, blower 3.
    .words = poner, girar
    .usage = poner MANDO POSICIÓN
cmd-start = Girar la llave para arrancar.
    .words = arrancar
    .usage = arrancar
cmd-stop = Quitar el contacto.
    .words = parar, apagar
    .usage = parar
cmd-wait = Dejar pasar el tiempo, en segundos, o en minutos con una m.
    .words = esperar
    .usage = esperar SEGUNDOS | esperar MINUTOSm
cmd-protect = Ponerse protección para los ojos y guantes.
    .words = proteger, gafas, lentes
    .usage = proteger

## Comandos: las manos en el auto

cmd-uncover = Quitar una tapa.
    .words = destapar, abrir
    .usage = destapar TAPA
cmd-cover = Volver a poner una tapa.
    .words = tapar, cerrar
    .usage = tapar TAPA
cmd-pull = Sacar un relé o fusible de su lugar.
    .words = sacar
    .usage = sacar PIEZA
cmd-fit = Volver a poner un relé o fusible: el original, o un repuesto comprobado. “girado” lo pone media vuelta.
    .words = colocar
    .usage = colocar PIEZA [repuesto] [girado]
cmd-unplug = Desconectar un conector.
    .words = desconectar
    .usage = desconectar CONECTOR
cmd-plug = Conectar empujando hasta que encaje, o empujar hasta el fondo uno que ya está puesto.
    .words = conectar, empujar
    .usage = conectar CONECTOR
cmd-wiggle = Mover el mazo de cables en un sitio mientras se observa.
    .words = mover, sacudir
    .usage = mover SITIO
cmd-spray = Mojar un sitio con el rociador mientras se observa. Se seca solo, antes donde hay calor.
    .words = rociar, mojar
    .usage = rociar SITIO
cmd-look = Mirar un sitio.
    .words = mirar
    .usage = mirar SITIO
cmd-inspect = Mirar de cerca algo sacado o desconectado.
    .words = revisar, inspeccionar
    .usage = revisar PIEZA | CONECTOR
cmd-listen = Escuchar en un sitio.
    .words = escuchar, oír
    .usage = escuchar SITIO
cmd-feel = Palpar un sitio con la mano.
    .words = palpar, sentir
    .usage = palpar SITIO
cmd-lamp = Apuntar la lámpara de inspección a un sitio, o guardarla.
    .words = alumbrar, linterna
    .usage = alumbrar SITIO | alumbrar no

## Comandos: herramientas

cmd-take = Tomar una herramienta en la mano. Tocar, apoyar, quitar y barrer la usan después.
    .words = tomar
    .usage = tomar prueba | prueba-led | puente | puente-sin-fusible | multímetro
cmd-clip = Poner la pinza de la lámpara de prueba en un punto.
    .words = pinza
    .usage = pinza PUNTO
cmd-red = Poner la punta roja del multímetro en un punto y dejarla.
    .words = roja, rojo
    .usage = roja PUNTO
cmd-black = Poner la punta negra del multímetro en un punto y dejarla.
    .words = negra, negro
    .usage = negra PUNTO
cmd-put = Poner una punta de una herramienta en un punto y dejarla.
    .words = apoyar
    .usage = apoyar [HERRAMIENTA] pinza | punta | a | b | roja | negra PUNTO
cmd-lift = Quitar una punta, todas las de una herramienta, o todas las que haya.
    .words = quitar, soltar
    .usage = quitar [HERRAMIENTA] PUNTA | quitar HERRAMIENTA | quitar todo
cmd-touch = Tocar un punto con la punta libre de la herramienta, leer y soltar.
    .words = tocar, probar
    .usage = tocar [HERRAMIENTA] PUNTO
cmd-sweep = Tocar todas las cavidades del zócalo de un relé, una tras otra.
    .words = barrer
    .usage = barrer PIEZA [HERRAMIENTA]
cmd-jump = Unir dos puntos con el puente: un extremo en cada uno.
    .words = puentear
    .usage = puentear PUNTO PUNTO [directo]
cmd-dial = Girar el selector del multímetro.
    .words = selector
    .usage = selector apagado | voltios | ohmios | amperios
cmd-renew = Poner una bombilla o un fusible nuevos en una herramienta.
    .words = renovar
    .usage = renovar prueba | puente | multímetro
cmd-breakout = Poner el adaptador en el zócalo de un relé, o quitarlo.
    .words = adaptador
    .usage = adaptador PIEZA | adaptador no
cmd-gauge = Conectar el manómetro a la toma de baja, o quitarlo.
    .words = manómetro
    .usage = manómetro sí | no
cmd-thermometer = Poner el termómetro en un sitio.
    .words = termómetro, temperatura
    .usage = termómetro SITIO

## Comandos: el trabajo

cmd-note = Anotar una línea en la hoja de trabajo.
    .words = nota, anotar
    .usage = nota TEXTO
cmd-hint = Pedir una pista: 1 dónde pensar, 2 con qué probar, 3 qué prueba. Sin número: cuánto cuesta cada una.
    .words = pista
    .usage = pista [1 | 2 | 3]
cmd-call = Decir qué está mal: dónde y qué. “fallas” lista las palabras.
    .words = diagnóstico, diagnosticar
    .usage = diagnóstico OBJETO FALLA
cmd-repair = Reparar algo: dónde y cómo. “métodos” lista las palabras.
    .words = reparar, arreglar
    .usage = reparar OBJETO MÉTODO
cmd-handback = Entregar el auto con tres líneas en la orden de trabajo. Esto termina la sesión.
    .words = entregar
    .usage = entregar QUEJA | CAUSA | CORRECCIÓN
cmd-walkback = Con el auto ya entregado: el intento otra vez, con lo que cada prueba podía decir y dijo.
    .words = repaso
    .usage = repaso

## Comandos: consultar (no cuesta nada y no se registra)

cmd-where = Dónde está usted y qué hay ahí.
    .words = dónde
    .usage = dónde
cmd-state = El estado del auto y las herramientas, como usted los dejó.
    .words = estado
    .usage = estado
cmd-points = Puntos que una herramienta puede tocar: los que se alcanzan, o todos los de una pieza.
    .words = puntos
    .usage = puntos [PIEZA]
cmd-places = Sitios para mirar, escuchar, palpar y alumbrar.
    .words = sitios, lugares
    .usage = sitios
cmd-plugs = Conectores que se pueden desconectar.
    .words = conectores
    .usage = conectores
cmd-controls = Los mandos del auto y sus posiciones.
    .words = mandos
    .usage = mandos
cmd-tools = Las herramientas que hay y sus puntas.
    .words = herramientas
    .usage = herramientas
cmd-box = La caja de fusibles, lugar por lugar.
    .words = caja
    .usage = caja
cmd-legend = La leyenda dentro de la tapa de la caja, como está impresa.
    .words = leyenda
    .usage = leyenda
cmd-card = Lo que suele fallar con esta queja.
    .words = tarjeta
    .usage = tarjeta
cmd-targets = Lo que se puede diagnosticar y reparar.
    .words = objetos
    .usage = objetos [PALABRA]
cmd-failures = Palabras para lo que puede estar mal.
    .words = fallas
    .usage = fallas
cmd-methods = Palabras para las formas de reparar.
    .words = métodos
    .usage = métodos
cmd-sheet = La hoja de trabajo: queja, notas, diagnósticos y reparaciones.
    .words = hoja
    .usage = hoja
cmd-log = Lo que se hizo y lo que mostró.
    .words = registro
    .usage = registro [ÚLTIMAS]
cmd-units = Unidades de presión y temperatura.
    .words = unidades
    .usage = unidades psi | kpa | bar | c | f
cmd-cautions = Las precauciones otra vez.
    .words = precauciones
    .usage = precauciones
cmd-retry = Volver a intentar guardar lo que no se pudo guardar.
    .words = reintentar
    .usage = reintentar
cmd-unsaved = Seguir sin guardar.
    .words = sin-guardar
    .usage = sin-guardar
cmd-help = Todos los comandos, o uno de ellos.
    .words = ayuda
    .usage = ayuda [COMANDO]
cmd-quit = Salir. Lo hecho está guardado; “resume” sigue desde ahí.
    .words = salir, adiós
    .usage = salir

## Palabras dentro de los comandos

word-off = no
    .words = no, apagado, fuera
word-on = sí
    .words = sí, encendido
word-turned = girado
    .words = girado
word-all = todo
    .words = todo, todas
word-plain = directo
    .words = directo

## Errores al escribir

say-unknown-command = No hay comando “{ $word }”. Escriba ayuda para verlos todos.
say-unknown-command-nearest = No hay comando “{ $word }”. ¿Quiso decir “{ $nearest }”?
say-usage = Se escribe así: { $usage }
say-no-tool = No tiene en la mano una herramienta con puntas. Tome una primero: { $usage }
say-unknown-word = “{ $word }” no es ninguno de estos: { $choices }.
say-no-control = Este auto no tiene ese mando.
say-bad-number = “{ $word }” no es un número de segundos. Escriba, por ejemplo: esperar 5
say-script-stopped = Línea { $line } del guion: { $why }
say-script-refused = Línea { $line } del guion: no se pudo hacer, y el guion debía parar en ese caso.
say-not-kept = Se hizo, pero no se pudo guardar, así que no se muestra. Escriba reintentar para probar otra vez, o sin-guardar para seguir sin guardar.
say-now-unsaved = Desde aquí no se guarda nada.
say-nothing-waiting = Todo lo hecho ya está guardado.

## Comienzo

say-what-this-is = Tracebay sirve para practicar la búsqueda de fallas eléctricas en autos. Recibe una queja sobre un auto inventado con una falla oculta, lo prueba con las herramientas de un técnico, dice qué está mal, lo repara y entrega el auto. Después se le dice lo bien que razonó.
say-begin = Empiece: tracebay-console start { $scenario } --seed 1
say-other-uses = También: resume ARCHIVO sigue un intento, check ARCHIVO valida archivos, help lista las opciones.
say-scenarios = Escenarios:
say-scenario = { $id }: { $title }. Auto: { $car }. Dificultad { $difficulty } de 5.
say-no-scenarios = No hay escenarios. Indique con --data una carpeta que los tenga.
say-recent = Intentos, los más nuevos primero:
say-recent-line = { $name }: { $scenario }, semilla { $seed }, { $actions } acciones, { $minutes }{ $done ->
    [yes] , entregado.
   *[no] .
  }
say-no-recent = Todavía no hay intentos en { $folder }.
say-title = { $title }, semilla { $seed }. Auto: { $car }, inventado.
say-complaint = El cliente dice: { $text }
say-weather = Afuera: { $temperature }.
say-rain = Pasa con lluvia; ahora el auto está seco.
say-budget = El cliente espera el auto con no más de { $minutes } de trabajo.
say-saved-in = Se guarda en { $path }
say-not-saved = No se guarda nada.
say-how-on = Está en: { $station }. Escriba ayuda para los comandos, dónde para ver qué hay alrededor.
say-resumed = Retomado: { $actions } acciones hechas, { $minutes } en la hoja de trabajo.
say-resumed-over = Este auto ya se entregó. Se puede consultar, pero no trabajar en él.
say-last-done = Lo último que hizo:
say-goodbye = Guardado. Para seguir: tracebay-console resume { $path }
say-goodbye-unsaved = No se guardó nada.
say-problem-files = Errores en archivos de datos: { $count }. Esos archivos se dejan fuera; use check con ellos.
say-seed-too-large = La semilla es demasiado grande. La mayor es { $most }.
say-save-options = Indique una carpeta con --save, o use --no-save.
say-it-was = Era: { $target }, { $failure }.
say-walkback-later = El repaso viene cuando el auto está entregado.
say-walkback-how = Escriba repaso para verlo otra vez, prueba por prueba.
say-no-score = No se puede puntuar: { $why }
say-put-right = El auto quedó bien.
say-still-wrong = Todavía hay algo mal en el auto.
say-blown-left = Quedó un fusible fundido en el auto: { $part }.

## Información

say-you-are = Usted está en: { $station }.
say-place = { $id }: { $label }
say-place-dark = { $id }: { $label }. Ahí está oscuro.
say-cover-on = { $cover }: puesta.
say-cover-off = { $cover }: quitada.
say-minutes = Minutos de trabajo: { $minutes } de { $budget }.
say-car-time = Tiempo del auto: { $seconds } s.
say-control = { $id }: { $position }
say-engine-running = El motor está en marcha.
say-engine-off = El motor no está en marcha.
say-protected = Protección para los ojos y guantes: puestos.
say-not-protected = Protección para los ojos y guantes: no puestos.
say-pulled = Fuera de su lugar: { $part }
say-spare-in = Repuesto colocado: { $part }
say-unplugged = Desconectado: { $plug }
say-lead-on = { $tool }, { $lead }: en { $point }
say-in-hand = En la mano: { $tool }
say-dial-at = Selector del multímetro: { $dial }
say-breakout-in = Adaptador: en { $part }
say-gauge-on = Manómetro: conectado.
say-lamp-at = Lámpara de inspección: { $place }
say-tool-blown = Fusible fundido en: { $tool }
say-heard-now = Se oye: { $sound } ({ $place })
say-point = { $id }: { $facts }
say-point-marked = marcado { $mark }
say-point-in-reach = Se alcanza.
say-no-points = Desde aquí no se alcanza ningún punto.
say-plug = { $id }: { $label }, { $place }
say-plug-off-limits = { $id }: { $label }, { $place }. No se toca.
say-control-positions = { $id }: { $label }, { $station }. Posiciones: { $positions }. Ahora: { $position }
say-tool = { $word }: { $tool }
say-tool-leads = { $word }: { $tool }. Puntas: { $leads }
say-box = { $label }: { $columns } columnas, { $rows } filas. La fila 1 está arriba y la columna 1 a la izquierda, visto desde donde usted está.
say-box-row = Fila { $row }:
say-slot-relay = columna { $column }: relé { $id }{ $out ->
    [yes] , sacado
   *[no] {""}
  }
say-slot-fuse = columna { $column }: fusible { $id }, { $amps } A{ $out ->
    [yes] , sacado
   *[no] {""}
  }
say-lid-on = La leyenda está dentro de la tapa. Quite la tapa primero: destapar { $cover }
say-legend = Leyenda: { $label }, fila por fila como se lee impresa.
say-legend-turned = Lo impreso queda cabeza abajo cuando la tapa está al lado de la caja.
say-legend-upright = Lo impreso queda derecho cuando la tapa está al lado de la caja.
say-legend-entry = columna { $column }: { $legend }
say-card = Lo que suele fallar con esta queja, según estima el escenario:
say-card-line = { $percent } de cada 100: { $what }, { $failure }
say-terminal-of = { $part }, terminal { $id }
say-target = { $id }: { $label }
say-word = { $word }: { $meaning }
say-note = Nota: { $text }
say-called = Diagnóstico: { $target }, { $failure }
say-repaired = Reparado: { $target }, { $method }
say-log-entry = { $n }. { $text }
say-units = Presión en { $pressure }, temperatura en { $temperature }.
say-help-intro = Comandos. Escriba ayuda y un comando para saber más. Casi todos llevan el nombre de una pieza, conector, sitio o punto; la tecla de tabulación lo completa.
say-help-line = { $usage }
say-also = También se escribe: { $words }
say-ask-complaint = De qué se quejaba el cliente:
say-ask-cause = Cuál era la causa:
say-ask-correction = Qué se hizo:

## Comprobar archivos

say-check-vehicle = { $path }: un vehículo, correcto.
say-check-scenario = { $path }: un escenario con { $candidates } fallas posibles, correcto.
say-check-scenario-refused = { $path }: un escenario con { $candidates } fallas posibles, no aceptado; con la tabla se dice qué corregir.
say-check-attempt = { $path }: un intento de { $scenario }, semilla { $seed }, { $actions } acciones. Se repite como se registró.
say-check-course = { $path }: un curso con { $lessons } lecciones, correcto.
say-check-texts = { $path }: { $texts } textos en el idioma { $language }, correcto.
say-check-lacking = Idioma { $language }: { $missing } de { $all } textos no tienen traducción y se muestran como se escribieron.
say-check-wiring = { $path }: un fusible no protege su cable; véase arriba.

## Lo que la simulación prueba de los escenarios, para autores

say-prove-scenario = escenario
say-prove-vehicle = vehículo
say-prove-hard = nivel
say-prove-faults = fallas
say-prove-repairs = arreglos
say-prove-tests = pruebas
say-prove-best = mejor min
say-prove-longest = máximo
say-prove-depth = pasos
say-prove-budget = plazo
say-prove-none = nada
say-prove-wire = { $vehicle }: el cable { $wire } de { $mm2 } mm² admite { $may } y está tras un fusible de { $fuse }.
say-prove-sum = { $scenarios } escenarios, { $faults } fallas posibles, { $wrong } cosas por corregir. El signo ~ marca un plan que es una cota.
say-prove-no-operating-point = no se puede calcular el auto: { $why }
say-prove-sound-car = la queja es cierta en un auto sano (semilla { $seed }). Haga más estrictos los pasos del síntoma o su límite.
say-prove-not-true = la queja no es cierta con { $candidate } (semilla { $seed }). Haga más fuerte la falla o más amplio el límite del síntoma.
say-prove-alike = ninguna prueba distingue { $a } de { $b } (semilla { $seed }). Añada un estado, un punto o un repuesto, o dé a ambos el mismo grupo.
say-prove-over-budget = demostrar { $candidate } lleva { $minutes }, más que el plazo. Suba el plazo o añada una prueba más rápida.
say-prove-state = no se llega al estado { $state }: { $missing } no ocurrió. Cuide el orden de los pasos.
say-prove-tells = “{ $text }” delata la respuesta con “{ $word }”.
say-prove-few-suspects = { $suspects } sospechosos para { $culprits } lugares de falla. Ponga al menos la mitad más.

## Cursos y esquemas

say-course = { $id }: { $title }, { $lessons } lecciones. { $about }
say-no-courses = No hay cursos.
say-unknown-course = No hay curso { $id }. Hay: { $known }.
say-lesson = Lección { $number }: { $title }
say-lesson-scenario = - start { $id } ({ $title })
say-lesson-seeds = - semillas para una clase: { $seeds }
say-unknown-vehicle = No hay vehículo { $id }. Hay: { $known }.
say-unknown-circuit = { $id } no está en ningún circuito de este vehículo. Los circuitos se nombran por un relé o una carga: { $known }.

## Tareas

say-assigned-who = Este archivo es para toda la clase. Diga quién es: --learner y su ID en la lista de la clase.
say-assigned-no-task = En esta tarea no hay un caso “{ $task }”. Sin --task se ven los casos.
say-assigned-choose = Casos de { $title }. Elija uno con --task:
say-assigned-task = { $task }: { $over } de { $most } intentos entregados, { $open } sin terminar
say-resume-assigned = Este intento es de una tarea. Ábralo con: tracebay-console assigned ARCHIVO --learner ID
say-scenarios-left = Y { $count } más: list los muestra todos, courses los pone en orden.

## Campos de los archivos que escriben los autores

say-fields-kind = { $kind }: { $files }
say-fields-how = “fields TIPO” lista sus campos, “fields TIPO --schema” imprime su JSON Schema.
say-fields-unknown = No hay ningún tipo de archivo “{ $kind }”. Hay: { $known }.
say-fields-lies-in = Estos archivos están en { $files }. De cada campo se dice el tipo, la unidad, los límites, si es obligatorio y qué significa (esto en inglés, como en los archivos).
say-fields-ron = Los archivos son RON: un tipo es Nombre(campo: valor), un mapa { "{" } "nombre": valor { "}" }, una opción va con su nombre solo o como Nombre(valor), lo que puede faltar es Some(valor) o None. El JSON Schema habla de los mismos archivos como JSON: allí una opción es "Nombre" entre comillas o { "{" } "Nombre": valor { "}" }, Some(valor) es el valor solo, None es null, y ( ) con varios valores es [ ].
say-fields-json-only = Este archivo es JSON. Lo escriben los programas; las personas lo leen.
say-fields-required = obligatorio
say-fields-optional = puede faltar
say-fields-default = { $value } si falta
say-fields-range = de { $low } a { $high }
say-fields-text = texto
say-fields-whole = número entero
say-fields-number = número
say-fields-boolean = true o false
say-fields-list = lista de { $inner }
say-fields-names = nombres con { $inner }
say-fields-maybe = Some({ $inner }) o None

## Revisar otra vez cada vez que se guarda un archivo

say-watch-nothing = Indique un archivo para vigilar, o una carpeta con --data.
say-watch-waiting = Esperando a que se guarde un archivo. Con Enter se termina.
say-watch-again = Se guardó un archivo. Se revisa otra vez:
say-files-unknown = No hay ningún archivo de datos “{ $path }”. El más parecido: { $nearest }.
