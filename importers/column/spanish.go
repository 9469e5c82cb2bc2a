package column

// spanish are the headings of Spanish sheets; see german.
var spanish = map[string][]string{
	"/Plant": {"Planta", "Datos de planta", "Ajustes"}, "/Shifts": {"Turnos"}, "/Products": {"Productos", "Plan de producción"}, "/Usage": {"Consumo", "Consumos", "Lista de materiales", "Uso"},
	"/History": {"Historial", "Histórico"}, "/Parts": {"Piezas", "Lista de piezas", "Materiales", "Artículos", "Referencias"}, "/Containers": {"Contenedores", "Embalajes", "Cajas"},
	"/Cells": {"Celdas", "Células", "Líneas"}, "/Stations": {"Estaciones", "Puestos"}, "/Rack types": {"Tipos de estantería"}, "/Levels": {"Niveles"}, "/Racks": {"Estanterías"},
	"/Aisle points": {"Puntos de pasillo"}, "/Aisles": {"Pasillos"}, "/Vehicles": {"Vehículos", "Carros"}, "/Current layout": {"Disposición actual"}, "/Pins": {"Fijaciones", "Posiciones fijas"},

	"Kit parts/Part": {"Pieza", "Pieza de kit", "Código de pieza", "Referencia", "Componente"},

	"Part":      {"Pieza", "Número de pieza", "Nº de pieza", "Nº pieza", "Código de pieza", "Referencia", "Ref", "Material", "Artículo", "Código de artículo", "Código material", "Componente"},
	"Container": {"Contenedor", "Tipo de contenedor", "Código de contenedor", "Caja", "Tipo de caja", "Embalaje", "Envase", "Cubeta", "Gaveta"},
	"Cell":      {"Celda", "Célula", "Línea", "Línea de montaje", "Célula de montaje"}, "Station": {"Estación", "Puesto", "Puesto de trabajo", "Punto de uso", "Punto de consumo"},
	"Product": {"Producto", "Modelo", "Producto terminado"}, "Rack type": {"Tipo de estantería"}, "Rack": {"Estantería"}, "Level": {"Nivel", "Balda"}, "Lane": {"Carril", "Canal"},
	"Description": {"Descripción", "Denominación", "Descripción de pieza", "Texto"}, "Length": {"Largo", "Longitud", "Largo contenedor", "Longitud exterior"},
	"Width": {"Ancho", "Anchura", "Ancho contenedor", "Ancho exterior"}, "Height": {"Alto", "Altura", "Alto contenedor", "Altura exterior"},
	"Mass limit": {"Carga máxima", "Peso máximo"}, "Variation": {"Coeficiente de variación", "Variación"},
	"Quantity per unit": {"Cantidad por unidad", "Cantidad por producto", "Piezas por producto"},
	"Pieces per hour":   {"Piezas por hora", "Piezas/hora", "Pzas/h", "Consumo por hora", "Consumo horario", "Demanda por hora", "Consumo/h"},
	"Pieces per day":    {"Piezas por día", "Piezas/día", "Consumo por día", "Consumo diario", "Demanda diaria"},
	"Scrap":             {"Merma", "Rechazo", "Desperdicio"}, "Refill interval": {"Intervalo de reposición", "Intervalo", "Frecuencia de reposición"}, "Response time": {"Tiempo de respuesta", "Tiempo de reposición"},
	"Service level": {"Nivel de servicio"}, "Safety": {"Seguridad", "Factor de seguridad"}, "Demand model": {"Modelo de demanda"}, "Containers": {"Número de contenedores", "Nº contenedores", "Contenedores en circulación"},
	"Piece mass":     {"Peso", "Peso unitario", "Peso por pieza", "Peso pieza", "Masa por pieza"},
	"Standard pack":  {"Piezas por contenedor", "Piezas por caja", "Cantidad por contenedor", "Cantidad por caja", "Pzas/caja", "Piezas/caja", "Contenido", "Unidad de embalaje", "Lote por caja", "Cantidad estándar"},
	"Market address": {"Ubicación", "Ubicación en supermercado", "Dirección de supermercado"}, "Unit cost": {"Coste unitario", "Costo unitario", "Precio", "Precio unitario"},
	"Pick hand": {"Mano", "Manos"}, "Keep apart": {"Separar", "Grupo de separación"}, "Look-alike of": {"Parecida a", "Similar a"}, "Empty mass": {"Tara", "Peso vacío", "Peso del contenedor"},
	"Gross mass limit": {"Peso bruto máximo"}, "Returnable": {"Retornable"}, "Flow side": {"Lado de flujo"}, "Handles": {"Asas"}, "Nests": {"Encajable"},
	"Shift": {"Turno"}, "Days": {"Días", "Días laborables"}, "Start": {"Inicio", "Hora de inicio"}, "End": {"Fin", "Hora de fin"}, "Break start": {"Inicio de pausa", "Pausa"}, "Break minutes": {"Minutos de pausa", "Duración de pausa"},
	"Units per day": {"Unidades por día", "Producción diaria", "Demanda diaria", "Unidades/día"}, "Date": {"Fecha", "Día"}, "Units": {"Unidades", "Cantidad"}, "Name": {"Nombre"}, "Area": {"Área", "Zona", "Nave"},
	"Shifts": {"Turnos"}, "Frontage": {"Frente", "Frente disponible"}, "Rack types allowed": {"Tipos de estantería permitidos"}, "Walk limit": {"Distancia máxima a pie"},
	"Depth": {"Fondo", "Profundidad"}, "Own mass": {"Peso propio"}, "Cost": {"Coste", "Costo", "Precio"}, "On casters": {"Con ruedas", "Móvil"}, "Kind": {"Tipo", "Clase"}, "Pick height": {"Altura de toma", "Altura de picking"},
	"Drop": {"Desnivel", "Caída"}, "Lane length": {"Longitud de carril", "Longitud útil"}, "Usable width": {"Ancho útil"}, "Clear height": {"Altura libre"}, "Stations": {"Estaciones", "Puestos"},
	"Aisle point": {"Punto de pasillo", "Punto de parada"}, "Fixed lanes": {"Carriles fijos"}, "Point": {"Punto"}, "From": {"Desde", "De"}, "To": {"Hasta", "A"}, "Aisles/Length": {"Longitud", "Distancia"},
	"One way": {"Sentido único"}, "Speed limit": {"Velocidad máxima"}, "Vehicle type": {"Vehículo", "Tipo de vehículo"}, "Count": {"Número", "Cantidad"}, "Vehicles/Containers": {"Contenedores", "Capacidad"}, "Speed": {"Velocidad"},
	"Stop time": {"Tiempo de parada"}, "Load time": {"Tiempo de carga"}, "Unload time": {"Tiempo de descarga"}, "Empty time": {"Tiempo de vacíos"}, "From market": {"Supermercado"}, "Reason": {"Motivo", "Razón"},
	"Setting": {"Ajuste", "Parámetro"}, "Value": {"Valor"}, "Plant name": {"Planta", "Nombre de la planta"}, "Length unit": {"Unidad de longitud"}, "Mass unit": {"Unidad de masa", "Unidad de peso"}, "Time zone": {"Zona horaria"},
}
